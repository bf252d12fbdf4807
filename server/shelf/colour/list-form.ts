import { z } from 'zod';
import { BACKINGS, USUAL_UNCERTAINTY_CENTI } from '../../../src/colour/colour-reading.ts';
import { type ListedReading, readReadingsList } from '../../../src/colour/readings-list.ts';
import { readColourDifference } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { withBlank } from '../../kit/choices.ts';
import { choiceField, field, optionalDay, optionalReading, optionalWhole } from '../../kit/fields.ts';
import { asked, drawFields } from '../../kit/form-drawing.ts';
import { lotPath, togetherPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { countOf } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import { CHOOSE_VIEWING, HOW_READ_WORDS, viewingField, viewingValue } from './fields.ts';
import { addReading, readUsualViewing } from './readings.ts';

/** Lots are read with an instrument, or a supplier sends figures; nobody picks their colour on a screen. */
const HOW = ['instrument', 'list'] as const;
const STATES = ['dry', 'wet'] as const;
export const MOST_LIST_LETTERS = 100_000;
const MOST_LAYERS = 64;
const MOST_TOLD = 12;

const onHand = prepared((db) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select(['lot.code', 'cloth.name as cloth', 'shade.name as shade'])
    .where(({ exists, selectFrom }) =>
      exists(
        selectFrom('piece')
          .select('piece.id')
          .whereRef('piece.lot_id', '=', 'lot.id')
          .where('piece.on_hand_ticks', '>', 0),
      ),
    )
    .orderBy('cloth.name')
    .orderBy('shade.name')
    .orderBy('lot.id', 'desc')
    .limit(MOST_LOTS_OFFERED),
);
const MOST_LOTS_OFFERED = 500;

const lotsCalled = prepared((db, codes: Param<readonly string[]>) =>
  db
    .selectFrom('lot')
    .select(['id', 'code', 'cloth_id as clothId', 'shade_id as shadeId'])
    .where('code', 'in', inList(codes)),
);

function listFields(reader: Reader, lot: string) {
  const offered = reader.all(onHand()).map((row) => ({
    value: row.code,
    label: `${row.code}, ${row.cloth}, ${row.shade}`,
  }));
  const lots =
    lot === '' || offered.some(({ value }) => value === lot)
      ? offered
      : [{ value: lot, label: lot }, ...offered];
  return {
    lot: asked(
      field((typed) => typed),
      {
        label: 'Lot',
        kind: 'select',
        required: false,
        hint: 'For lines that name none.',
        options: withBlank(lots, 'named in the list'),
      },
    ),
    list: asked(
      field((typed, refuse) =>
        typed.length > MOST_LIST_LETTERS
          ? refuse(`Readings: the list is longer than ${MOST_LIST_LETTERS} letters: save it in two parts.`)
          : typed,
      ),
      {
        label: 'Readings',
        kind: 'textarea',
        rows: 8,
        size: 'long',
        hint: 'A line each: L*, a*, b*; or lot, L*, a*, b*, place.',
      },
    ),
    how: choiceField(HOW, 'how they were got', {
      label: 'How they were got',
      options: HOW.map((how) => ({ value: how, label: HOW_READ_WORDS[how] })),
    }),
    viewing: viewingField(),
    sure: optionalReading(readColourDifference, {
      label: 'Accuracy of the reading, ΔE00',
      hint: `Blank: ${USUAL_UNCERTAINTY_CENTI.instrument / 100} by instrument, ${USUAL_UNCERTAINTY_CENTI.list / 100} by list.`,
    }),
    state: choiceField(STATES, 'whether it was wet or dry', {
      label: 'Wet or dry',
      options: STATES.map((value) => ({ value, label: value })),
    }),
    layers: optionalWhole({ min: 1, max: MOST_LAYERS, label: 'Layers', size: 'short' }),
    backing: choiceField(['', ...BACKINGS], 'what lay below', {
      label: 'Below them',
      required: false,
      options: withBlank(
        BACKINGS.map((value) => ({ value, label: value })),
        'not noted',
      ),
    }),
    read_on: optionalDay({ label: 'Read on', hint: 'Blank: today.' }),
  };
}

/** The form of many readings; `lot` is offered though nothing of it is left. */
export function readingsForm(reader: Reader, lot: string) {
  return z.strictObject(listFields(reader, lot)).transform(({ list, viewing, backing, ...form }, context) => {
    const refuse = (name: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [name], input: null });
    const { readings, problems } = readReadingsList(list);
    const found = findLots(reader, readings, form.lot);
    const all = [...problems, ...found.problems];
    if (all.length > 0) {
      const told = all.slice(0, MOST_TOLD).join(' ');
      refuse(
        'list',
        all.length > MOST_TOLD
          ? `${told} ${all.length - MOST_TOLD} more lines cannot be read: fix these first.`
          : told,
      );
    }
    if (!viewing) refuse('viewing', CHOOSE_VIEWING);
    if (!viewing || all.length > 0) return z.NEVER;
    return { ...form, viewing, backing: backing === '' ? null : backing, readings: found.readings };
  });
}

type ReadingsForm = z.output<ReturnType<typeof readingsForm>>;

function findLots(reader: Reader, readings: readonly ListedReading[], lot: string) {
  const codes = [...new Set(readings.map((reading) => reading.lot || lot))].filter((code) => code !== '');
  const lots = new Map(reader.all(lotsCalled(codes)).map((row) => [row.code, row]));
  const found = readings.map((reading) => ({ reading, of: lots.get(reading.lot || lot) ?? null }));
  return {
    readings: found.flatMap(({ reading, of }) => (of ? [{ ...reading, of }] : [])),
    problems: found.flatMap(({ reading, of }) => {
      if (of) return [];
      const why =
        reading.lot || lot
          ? `no lot is called “${reading.lot || lot}”.`
          : 'choose the lot above, or write its code first.';
      return [`Line ${reading.line}: ${why}`];
    }),
  };
}

/** Keeps readings of one lot or of several. */
export function addReadings(tx: Tx, form: ReadingsForm): Answer {
  const { how, viewing, state, layers, backing, readings } = form;
  for (const { of, lab, place, note } of readings)
    addReading(
      tx,
      { lotId: of.id },
      {
        ...viewing,
        lab,
        how,
        uncertaintyCenti: form.sure ?? USUAL_UNCERTAINTY_CENTI[how],
        state,
        layers: layers?.value ?? null,
        backing,
        place,
        note,
        readOn: form.read_on,
      },
    );
  const lots = new Map(readings.map(({ of }) => [of.code, of]));
  const [first] = lots.values();
  const isOne = lots.size === 1;
  return {
    location: !first ? '/shelf/together' : isOne ? lotPath(first.code) : togetherPath(first),
    said: `${countOf(readings.length, 'reading', 'readings')} of ${isOne ? `lot ${first?.code}` : countOf(lots.size, 'lot', 'lots')} saved.`,
  };
}

/** The form of many readings, typed, pasted or from a file. */
export function readingsFormPage(reader: Reader, typed: Typed) {
  const offered = {
    how: 'instrument',
    state: 'dry',
    viewing: viewingValue(readUsualViewing(reader)),
    ...typed,
  };
  const { lot, list, ...more } = drawFields(listFields(reader, typed.lot ?? ''), offered);
  const data = {
    requestKey: mintKey(),
    action: READINGS_PATH,
    lot,
    list,
    more: Object.values(more),
    cancel: typed.lot ? lotPath(typed.lot) : '/shelf/together',
  };
  return { view: 'shelf/colour/readings', data, title: 'Readings of lots', room: 'shelf' } satisfies Page;
}

export const READINGS_PATH = '/shelf/readings/new';
