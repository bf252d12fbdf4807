import { address } from '../shelf/address.ts';

export const garmentPath = (code: string) => `/garments/${encodeURIComponent(code)}`;
export const tierPath = (code: string, tierId: number) => `${garmentPath(code)}/tiers/${tierId}`;
/** Where a tier stands on its garment's page. */
export const tierPlace = (code: string, tierId: number) => `${garmentPath(code)}#tier-${tierId}`;
export const shortPath = (code: string) => address('/short', { garment: code });
export const cuttingPath = (code: string, tierId: number) =>
  `/cutting-table/${encodeURIComponent(code)}/${tierId}`;
