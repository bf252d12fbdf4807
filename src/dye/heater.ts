/**
 * Heat for a bath: energy, time, whether a heater can follow a ramp, and the water that boils away. Plain physics in
 * kilojoules, kilowatts and °C; figures are estimates, since a pot loses heat to the room.
 */

import { FROM_MEMORY, type Provenance, published } from '../quantity/provenance.ts';
import type { Bath } from './bath.ts';

/** Cold tap water, in °C (common practice). */
export const TAP_C = 15;

/** Heat that a kilogram takes up for one degree, in kJ: water by steam tables, cloth from memory. */
export const WATER_KJ = 4.186;
export const CLOTH_KJ = 1.3;
/** Heat that boils away one kilogram of water, in kJ (redelectrickettle.net/1296). */
export const BOILING_KJ = 2257;

export const MATERIALS = [
  'stainless steel',
  'enamelled steel',
  'aluminium',
  'copper',
  'glass',
  'plastic',
] as const;
export type Material = (typeof MATERIALS)[number];

/** kJ for one kilogram and one degree (from memory). */
const MATERIAL_KJ: Readonly<Record<Material, number>> = {
  'stainless steel': 0.5,
  'enamelled steel': 0.5,
  aluminium: 0.9,
  copper: 0.39,
  glass: 0.84,
  plastic: 1.9,
};

export const HEATER_KINDS = ['induction', 'electric', 'immersion', 'gas'] as const;
export type HeaterKind = (typeof HEATER_KINDS)[number];

const HOB = published('US Department of Energy, quoted by leadingedgehomes.com');

/** The part of a heater's power that reaches the bath, in hundredths of a percent. */
export const EFFICIENCIES: Readonly<Record<HeaterKind, { readonly bp: number; readonly mark: Provenance }>> =
  {
    induction: { bp: 8400, mark: HOB },
    electric: { bp: 7400, mark: HOB },
    immersion: { bp: 9500, mark: FROM_MEMORY },
    gas: { bp: 4000, mark: HOB },
  };

export const HEATER_NAMES: Readonly<Record<HeaterKind, string>> = {
  induction: 'induction hob',
  electric: 'electric plate',
  immersion: 'electric element in the bath',
  gas: 'gas burner',
};

/** What is heated: the liquor in µL (as heavy as water), the cloth in mg, the empty vessel in mg if known. */
export interface Load {
  readonly volumeUl: number;
  readonly clothMg: number;
  readonly potMg?: number;
  readonly material?: Material;
}

export interface Heater {
  readonly watts: number;
  readonly efficiencyBp: number;
}

/** A bath in a vessel; what is not known of the vessel is left out of the sum. */
export function loadOf(
  bath: Pick<Bath, 'volumeUl' | 'massMg'>,
  { emptyMg, material }: { readonly emptyMg?: number | null; readonly material?: Material | '' },
): Load {
  return {
    volumeUl: bath.volumeUl,
    clothMg: bath.massMg,
    ...(emptyMg ? { potMg: emptyMg } : {}),
    ...(material ? { material } : {}),
  };
}

/** Heat in kJ that each part takes up from one temperature to another, and all together. */
export function heatKj(load: Load, fromC: number, toC: number) {
  const degrees = toC - fromC;
  const waterKj = (load.volumeUl / 1_000_000) * WATER_KJ * degrees;
  const clothKj = (load.clothMg / 1_000_000) * CLOTH_KJ * degrees;
  const potKj = ((load.potMg ?? 0) / 1_000_000) * potPerKg(load) * degrees;
  return { waterKj, clothKj, potKj, inAllKj: waterKj + clothKj + potKj };
}

/** kJ for one kilogram of the pot and one degree; steel where the material is not known. */
export function potPerKg({ material }: Load): number {
  return MATERIAL_KJ[material ?? 'stainless steel'];
}

/** What of a heater's power reaches the bath, in kW. */
export function netKw({ watts, efficiencyBp }: Heater): number {
  return (watts * efficiencyBp) / 10_000_000;
}

/** Minutes that a heater takes for so much heat: kJ ÷ kW ÷ 60. Throws RangeError without power. */
export function minutesFor(kj: number, heater: Heater): number {
  const kw = netKw(heater);
  if (!(kw > 0)) throw new RangeError('A heater needs power');
  return kj / kw / 60;
}

/** The power in kW that must reach the bath for a rate in °C a minute: kJ for a degree × rate ÷ 60. */
export function kwForRate(load: Load, rateCPerMinute: number): number {
  return (heatKj(load, 0, 1).inAllKj * rateCPerMinute) / 60;
}

/** The fastest rate in °C a minute that a heater manages: kW × 60 ÷ kJ for a degree. */
export function fastestRate(load: Load, heater: Heater): number {
  return (netKw(heater) * 60) / heatKj(load, 0, 1).inAllKj;
}

/**
 * Water that boils away in `minutes` at most, in µL, when all of the heater's power goes into boiling:
 * kW × seconds ÷ 2257 kJ/kg. Topped up with hot water alone, since steam takes no dye or salt along.
 */
export function boiledAwayUl(heater: Heater, minutes: number): number {
  return Math.round(((netKw(heater) * minutes * 60) / BOILING_KJ) * 1_000_000);
}

/** What to beware of with a vessel's material in an acid, alkaline or hot bath; '' where nothing is known. */
export function materialCaution(
  material: Material,
  bath: { readonly acid: boolean; readonly alkaline: boolean; readonly temperatureC: number },
): string {
  if (material === 'aluminium' && (bath.acid || bath.alkaline)) {
    return 'Aluminium is eaten by acid and alkali and dulls shades: use stainless steel or whole enamel.';
  }
  if (material === 'copper')
    return 'Copper gives off ions that change shades: use stainless steel or whole enamel.';
  if (material === 'plastic' && bath.temperatureC > 60) {
    return 'A plastic tub goes soft and may let go of hot liquor: no bath above 60 °C in it.';
  }
  return '';
}
