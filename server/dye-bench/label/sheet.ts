import { auxiliaryOf, nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { showLiquorRatio, showOwf } from '../../../src/dye/bench-figures.ts';
import { capital } from '../../../src/dye/fibre.ts';
import type { MakerLabel } from '../../../src/dye/label-figures.ts';
import { showAddition, showRamp } from '../../../src/dye/recipe-figures.ts';
import { sayPh } from '../recipe/figures.ts';

export type MakerLabelSheet = ReturnType<typeof labelSheet>;

/** A maker's label as it is printed: what it says, and nothing of what it does not say. */
export function labelSheet(label: MakerLabel) {
  const { startC, temperatureC, holdMinutes, heatRateMilli, coolRateMilli, liquorRatioMilli } = label;
  const { pHFrom, pHTo, additions, doses, washes } = label;
  const pH = pHFrom === null || pHTo === null ? '' : sayPh({ pHFrom, pHTo });
  return {
    source: label.source,
    figures: [
      ...figure('Liquor ratio', liquorRatioMilli, showLiquorRatio),
      ...figure('Set the bath at', startC, degrees),
      ...figure('Dye at', temperatureC, degrees),
      ...figure('Hold it for', holdMinutes, minutesOf),
      ...figure('Heat by', heatRateMilli, showRamp),
      ...figure('Cool by', coolRateMilli, showRamp),
      ...(pH === '' ? [] : [{ label: 'pH', value: pH }]),
    ],
    additions: additions.map(({ what, atC, minutes }) => ({
      what: what === 'dye' ? 'The dye' : capital(auxiliaryOf(what).name),
      at: atC === null ? '' : degrees(atC),
      wait: minutesOf(minutes),
    })),
    doses: doses.map(({ kind, form, upToMilli, per, amount }) => ({
      what: capital(nameOfForm(kind, form)),
      upTo: upToMilli === null ? 'any other' : `up to ${showOwf(upToMilli)}`,
      amount: showAddition({ per, amount }),
    })),
    washes: washes.map(({ says, toC, minutes, dose }) => ({
      says,
      at: degrees(toC),
      minutes: minutesOf(minutes),
      takes: dose
        ? `${showAddition({ per: 'litre', amount: dose.mgPerLitre })} of ${nameOfForm(dose.kind, dose.form)}`
        : 'water alone',
    })),
  };
}

function figure<T>(label: string, value: T | null, show: (value: T) => string) {
  return value === null ? [] : [{ label, value: show(value) }];
}

const degrees = (celsius: number) => `${celsius} °C`;
const minutesOf = (minutes: number) => `${minutes} min`;
