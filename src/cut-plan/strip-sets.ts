/**
 * All sets of strips that are no more than what is wanted, by number: the digits of a set's number are its strips of
 * each wanted kind. A set that is part of another has the lesser number.
 */
export class StripSets {
  /** Wanted kinds, by their places in the job. */
  readonly kinds: readonly number[];
  readonly most: readonly number[];
  readonly strides: readonly number[];
  readonly size: number;
  /** Pairs of sets that are together no more than what is wanted. */
  readonly pairs: number;
  /** Strips of every set, kind by kind. */
  readonly digits: Uint16Array;

  private constructor(counts: readonly number[]) {
    this.kinds = counts.flatMap((count, kind) => (count > 0 ? [kind] : []));
    this.most = counts.filter((count) => count > 0);
    let size = 1;
    this.strides = this.most.map((count) => {
      size *= count + 1;
      return size / (count + 1);
    });
    this.size = size;
    this.pairs = this.most.reduce((product, count) => (product * (count + 1) * (count + 2)) / 2, 1);
    this.digits = new Uint16Array(size * this.most.length);
    for (let set = 0; set < size; set += 1) {
      this.most.forEach((count, i) => {
        this.digits[set * this.most.length + i] = Math.floor(set / (this.strides[i] as number)) % (count + 1);
      });
    }
  }

  /** Null where there are more than `mostSets`. */
  static of(counts: readonly number[], mostSets: number): StripSets | null {
    return counts.reduce((size, count) => size * (count + 1), 1) > mostSets ? null : new StripSets(counts);
  }

  /** A set with further strips (by wanted kind), as far as they are wanted. */
  plus(set: number, strips: ArrayLike<number>): number {
    const { most, strides, digits } = this;
    let sum = 0;
    for (let i = 0, at = set * most.length; i < most.length; i += 1, at += 1) {
      const together = (digits[at] as number) + (strips[i] as number);
      sum += Math.min(together, most[i] as number) * (strides[i] as number);
    }
    return sum;
  }

  /** Every set that together with this one is no more than what is wanted. */
  eachBeside(set: number, tell: (other: number) => void): void {
    const { most, strides } = this;
    const strips = this.stripsOf(set);
    const room = most.map((n, i) => n - (strips[i] as number));
    const held = most.map(() => 0);
    for (let other = 0, i = 0; i < most.length; ) {
      if (i === 0) tell(other);
      if ((held[i] as number) < (room[i] as number)) {
        held[i] = (held[i] as number) + 1;
        other += strides[i] as number;
        i = 0;
      } else {
        other -= (held[i] as number) * (strides[i] as number);
        held[i] = 0;
        i += 1;
      }
    }
  }

  stripsOf(set: number): Uint16Array {
    return this.digits.subarray(set * this.most.length, (set + 1) * this.most.length);
  }

  countOf(set: number): number {
    return this.stripsOf(set).reduce((sum, strips) => sum + strips, 0);
  }
}
