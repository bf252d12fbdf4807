/**
 * A cage of 51, 74, 97 and 120 in with 4 in of lap, as its form asks for it: its steels come to 358 in (naergilien.info,
 * 2011; fuwa-fuwa-fashion, 2016).
 */
export const CAGE = {
  name: 'Cage',
  pieces: '1',
  unit: 'in',
  girths: '51, 74, 97, 120',
  lap: '4',
  seam: '1/2',
  tapes: '8',
  drop: '40',
  turns: '2',
};
