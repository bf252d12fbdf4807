import {
  boiledAwayUl,
  CLOTH_KJ,
  EFFICIENCIES,
  fastestRate,
  HEATER_NAMES,
  type Heater,
  type HeaterKind,
  heatKj,
  kwForRate,
  type Load,
  minutesFor,
  netKw,
  potPerKg,
  WATER_KJ,
} from '../../../src/dye/heater.ts';
import { showPower } from '../../../src/quantity/power.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { sayMark } from '../recipe/store.ts';

interface HeatAsked {
  readonly load: Load;
  readonly fromC: number;
  readonly toC: number;
  /** the fastest heating of the ramp; nought where the heat stays */
  readonly rateCPerMinute: number;
  readonly holdMinutes: number;
  readonly heater: {
    readonly watts: number;
    readonly kind: HeaterKind;
    readonly efficiencyBp?: number;
  } | null;
}

export type ShownHeat = ReturnType<typeof showHeat>;

/** Heat for one bath, each figure with the sum that gives it: energy, time to temperature, whether the heater keeps to the ramp, and water to top up. */
export function showHeat(asked: HeatAsked) {
  const { load, fromC, toC, heater } = asked;
  const kj = heatKj(load, fromC, toC);
  const rows = [
    {
      label: `Energy, ${fromC} to ${toC} °C`,
      value: `${(kj.inAllKj / 3600).toFixed(2)} kWh`,
      how: `${sumOfHeat(load, toC - fromC)} = ${Math.round(kj.inAllKj)} kJ; ÷ 3600`,
    },
  ];
  if (!heater) return { rows, verdict: '', follows: true, source: '' };
  const efficiencyBp = heater.efficiencyBp ?? EFFICIENCIES[heater.kind].bp;
  const power: Heater = { watts: heater.watts, efficiencyBp };
  const kw = `${showPower(heater.watts)} × ${showPercent(efficiencyBp)} = ${netKw(power).toFixed(2)} kW`;
  rows.push({
    label: 'Time to temperature at full power',
    value: `${Math.round(minutesFor(kj.inAllKj, power))} min`,
    how: `${Math.round(kj.inAllKj)} kJ ÷ (${kw}) ÷ 60`,
  });
  const rate = asked.rateCPerMinute;
  const needed = kwForRate(load, rate);
  const fastest = fastestRate(load, power);
  if (rate > 0) {
    rows.push({
      label: `Power for ${rate} °C a minute`,
      value: `${needed.toFixed(2)} kW`,
      how: `(${sumOfHeat(load, 1)}) × ${rate} ÷ 60`,
    });
  }
  if (toC >= 90) {
    rows.push({
      label: 'Boiled away at most while held',
      value: `${(boiledAwayUl(power, asked.holdMinutes) / 1_000_000).toFixed(2)} L`,
      how: `${netKw(power).toFixed(2)} kW × ${asked.holdMinutes} min × 60 ÷ 2257 kJ/kg, at full power. Top up to the fill mark with hot water, away from the cloth: steam takes no dye or salt along.`,
    });
  }
  const mark = heater.efficiencyBp === undefined ? sayMark(EFFICIENCIES[heater.kind].mark) : 'as typed';
  return {
    rows,
    ...verdictOn(rate, needed, fastest, power),
    source: `Part of the power that reaches the bath, ${HEATER_NAMES[heater.kind]} ${showPercent(efficiencyBp)}: ${mark}. Losses to the room come on top.`,
  };
}

/** Whether the heater can follow the ramp, in a sentence; '' where the heat stays. */
function verdictOn(rate: number, needed: number, fastest: number, power: Heater) {
  if (rate === 0) return { verdict: '', follows: true };
  const most = fastest.toFixed(2);
  return needed <= netKw(power)
    ? { verdict: `The heater can follow the ramp: up to ${most} °C a minute.`, follows: true }
    : {
        verdict: `The heater cannot follow the ramp: it manages ${most} °C a minute, and ${rate} is wanted. Slower does no harm; write down the time it took, and keep it the same in every bath.`,
        follows: false,
      };
}

/** "20 L × 4.186 × 80 + 1 kg × 1.3 × 80", without what is not there. */
function sumOfHeat(load: Load, degrees: number): string {
  const times = degrees === 1 ? '' : ` × ${degrees}`;
  const parts = [`${load.volumeUl / 1_000_000} L × ${WATER_KJ}${times}`];
  if (load.clothMg > 0) parts.push(`${load.clothMg / 1_000_000} kg cloth × ${CLOTH_KJ}${times}`);
  if (load.potMg) parts.push(`${load.potMg / 1_000_000} kg pot × ${potPerKg(load)}${times}`);
  return parts.join(' + ');
}
