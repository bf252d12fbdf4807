/** Which solute of `bath-ph` an auxiliary is; what is not listed does not count for the pH, or nobody knows how. */

import type { AuxiliaryKind } from './auxiliaries.ts';
import type { BathSolutes } from './bath-ph.ts';

export const SOLUTES: Partial<Record<AuxiliaryKind, keyof BathSolutes>> = {
  'soda-ash': 'sodaAsh',
  'caustic-soda': 'causticSoda',
  'acetic-acid': 'aceticAcid',
  'citric-acid': 'citricAcid',
  'formic-acid': 'formicAcid',
  'sulphuric-acid': 'sulphuricAcid',
  'ammonium-sulphate': 'ammoniumSulphate',
  'sodium-acetate': 'sodiumAcetate',
  salt: 'salt',
  'glauber-salt': 'sodiumSulphate',
};
