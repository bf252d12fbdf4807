/** How a band is closed, on the form of a tier, of pleats and of the quick tier alike. */
export const CLOSINGS = [
  { value: 'ring', label: 'Ring, all the way round' },
  { value: 'open', label: 'Open, with two ends' },
];
