/** A lawful quick plan of very many kinds and pieces, as a script sends it: every size another, every piece with flaws. */
export function largestQuick(kinds = 200, pieces = 200): Record<string, unknown> {
  const directions = ['across', 'along', 'either'];
  const perKind = Math.floor(10_000 / kinds);
  return {
    unit: 'mm',
    useful: '300',
    strips: Array.from({ length: kinds }, (_, i) => ({
      name: `Strip ${i}`,
      width: String(101 + ((i * 37) % 397)),
      length: String(211 + ((i * 53) % 797)),
      count: String(perKind),
      direction: directions[i % 3],
    })),
    pieces: Array.from({ length: pieces }, (_, i) => ({
      width: String(1100 + (i % 7) * 50),
      length: String(2000 + ((i * 131) % 9000)),
      count: '5',
      lot: `L${i % 4}`,
      flaws: Array.from({ length: 8 }, (_, f) => {
        const left = (f * 47) % 900;
        return `${50 + f * 190} to ${60 + f * 190}, ${left} to ${left + 30}`;
      }).join('; '),
    })),
  };
}
