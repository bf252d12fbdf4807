import { cuttingPath } from '../garments/paths.ts';
import { address } from '../shelf/address.ts';

export { cuttingPath };

/** Where length is held for a tier, from the piece named. */
export const holdPath = (code: string, tierId: number, piece = '') =>
  address(`${cuttingPath(code, tierId)}/holds`, { piece });

export const releasePath = (code: string, tierId: number, piece = '') =>
  address(`${cuttingPath(code, tierId)}/releases`, { piece });

/** Where strips are cut for a tier, from the piece named. */
export const cutPath = (code: string, tierId: number, piece = '') =>
  address(`${cuttingPath(code, tierId)}/cuts`, { piece });

export const benchPath = (code: string, tierId: number) => `${cuttingPath(code, tierId)}/bench`;
