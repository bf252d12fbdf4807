import { cuttingPath } from '../garments/paths.ts';
import { address } from '../kit/address.ts';

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

const garmentAtTable = (code: string) => `/cutting-table/${encodeURIComponent(code)}`;

/** Where the lays that are held for a garment are cut, one after the other. */
export const layBenchPath = (code: string) => `${garmentAtTable(code)}/bench`;

/** One lay of it, where something else happened than was planned. */
export const layPath = (code: string, layId: number) => `${garmentAtTable(code)}/lays/${layId}`;

/** All that is to be cut for a garment, for paper. */
export const cutSheetPath = (code: string) => `${garmentAtTable(code)}/sheet`;

/** The cut plans of a garment. */
export const planPath = (code: string) => `/cutting-table/${encodeURIComponent(code)}/plan`;
