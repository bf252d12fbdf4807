/** Counts what a plan does, in steps of its loops. A plan stops by this and not by a clock, so that it comes out the same. */
export class Meter {
  /** Steps of the inner loops of filling, by which the work that is allowed is shared out. */
  work = 0;
  /** Steps of all other loops. They are few in most jobs; in the largest they are the most. */
  lesser = 0;
  readonly #mostSteps: number;

  constructor(mostSteps = Number.POSITIVE_INFINITY) {
    this.#mostSteps = mostSteps;
  }

  get steps(): number {
    return this.work + this.lesser;
  }

  /** From here on only what is found already is put together. */
  get isSpent(): boolean {
    return this.steps > this.#mostSteps;
  }
}
