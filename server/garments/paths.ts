import { address } from '../kit/address.ts';

export const garmentPath = (code: string) => `/garments/${encodeURIComponent(code)}`;
export const tierPath = (code: string, tierId: number) => `${garmentPath(code)}/tiers/${tierId}`;
/** Where a tier stands on its garment's page. */
export const tierPlace = (code: string, tierId: number) => `${garmentPath(code)}#tier-${tierId}`;
export const versionsPath = (code: string) => `${garmentPath(code)}/versions`;
/** Two states beside each other: each the number of a version, or the code of a garment as it is now. */
export const comparePath = (code: string, from: string, to: string) =>
  address(`${versionsPath(code)}/compare`, { from, to });
export const copyPath = (code: string) => `${garmentPath(code)}/copies`;
export const bookPath = (code: string) => `${garmentPath(code)}/book`;
export const sewingPath = (code: string) => `${garmentPath(code)}/sewing`;
export const backwardsPath = (code: string, tierId: number) => `${tierPath(code, tierId)}/backwards`;
export const costPath = (code: string) => `${garmentPath(code)}/cost`;
export const shortPath = (code: string) => address('/short', { garment: code });
export const cuttingPath = (code: string, tierId: number) =>
  `/cutting-table/${encodeURIComponent(code)}/${tierId}`;
