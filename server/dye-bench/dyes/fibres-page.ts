import { BLEND_RULES } from '../../../src/dye/blend-order.ts';
import type { Condition } from '../../../src/dye/condition.ts';
import { affinity, classesFor, DYE_CLASS_NAMES, DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { conditionsFor } from '../../../src/dye/dye-conditions.ts';
import { HEAT_LIMITS } from '../../../src/dye/dye-facts.ts';
import { capital, FIBRES, type FibreCode, fibreOf } from '../../../src/dye/fibre.ts';
import type { Page } from '../../web/page-frame.ts';
import { sayMark } from '../recipe/store.ts';

const TAKES = { dyes: 'dyes', stains: 'stains only', no: 'does not' } as const;

/** Every fibre, what takes on it, and how it is worked; each row with where it comes from. */
export function fibresPage() {
  const data = {
    fibres: FIBRES.map(({ code }) => showFibre(code)),
    /** two fibres in one cloth: the order of dyeings and its reason */
    blends: BLEND_RULES.map(({ pair, says, why, mark }) => ({
      name: capital(pair.join(' with ')),
      says,
      why,
      source: sayMark(mark),
    })),
  };
  return {
    view: 'dye-bench/dyes/fibres',
    data,
    title: 'Which dye for which fibre',
    room: 'dye-bench',
  } satisfies Page;
}

function showFibre(code: FibreCode) {
  const limit = HEAT_LIMITS.find(({ fibre }) => fibre === code);
  return {
    name: capital(fibreOf(code).name),
    id: code,
    /** how hot a bath may be, and why */
    heat: limit ? `${limit.limitC} °C at most: ${limit.why}` : '',
    heatSource: limit ? sayMark(limit.mark) : '',
    dyes: DYE_CLASSES.map((dyeClass) => {
      const { take, note, mark } = affinity(code, dyeClass);
      const said = note ? `${TAKES[take]}: ${note}` : TAKES[take];
      return { dye: capital(DYE_CLASS_NAMES[dyeClass]), take: said, source: sayMark(mark) };
    }),
    ways: classesFor(code).flatMap((dyeClass) => conditionsFor(code, dyeClass).map(showWay)),
  };
}

function showWay(way: Condition) {
  const { temperatureC, minutes, pH } = way;
  return {
    dye: capital(DYE_CLASS_NAMES[way.dyeClass]),
    method: way.method,
    heat: `${range(temperatureC)} °C${way.startC ? `, set at ${range(way.startC)} °C` : ''}`,
    minutes: minutes ? `${range(minutes)} min` : '',
    pH: pH ? range(pH) : '',
    note: way.note ?? '',
    source: sayMark(way.mark),
    /** true where it takes sealed plant: told, never proposed */
    sealed: way.vessel === 'sealed',
  };
}

function range([from, to]: readonly [number, number]): string {
  return from === to ? String(from) : `${from} to ${to}`;
}
