import { z } from 'zod';
import type { Units } from '../../src/quantity/length-show.ts';
import { type Reading, refused } from '../../src/quantity/reading.ts';
import {
  MOST_OF_SUPPLY,
  readSupplyAmount,
  type SupplyMeasure,
  showSupplyAmount,
  unitOfMeasure,
} from '../../src/supply/amount.ts';
import { inOrderOfUse } from '../../src/supply/taking.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { type Choice, chosenField, optionalChosen } from '../kit/choices.ts';
import {
  optionalDay,
  optionalReading,
  optionalText,
  readingField,
  textField,
  tickField,
} from '../kit/fields.ts';
import { dayOf, showDay } from '../kit/when.ts';
import { invalid } from '../refusal.ts';
import { holdSupply, readSupplyHolds, releaseSupply } from './holds.ts';
import { freeOf, isInLengths, readSupplyLots, type StockedSupply, type SupplyLot } from './store.ts';
import { countSupply, splitSupply, useSupply, writeSupplyOff } from './verbs.ts';
import { sayStock } from './words.ts';

/** What is done with a supply, each on its own page: each posts to a resource of its own. */
export const SUPPLY_DEEDS = {
  hold: {
    resource: 'holds',
    title: 'Hold for a garment',
    hint: '',
    button: 'Hold it',
  },
  use: { resource: 'uses', title: 'Use some', hint: '', button: 'Enter the use' },
  release: {
    resource: 'releases',
    title: 'Release what is held',
    hint: 'Blank: all of it.',
    button: 'Release it',
  },
  split: {
    resource: 'splits',
    title: 'Cut off and keep',
    hint: 'A length that is cut off its reel or card and put back: from then on it is a length of its own.',
    button: 'Cut off and keep',
  },
  count: {
    resource: 'counts',
    title: 'Count',
    hint: 'Weigh, measure or count one lot.',
    button: 'Enter the count',
  },
  'write-off': { resource: 'write-offs', title: 'Write off', hint: '', button: 'Write off' },
} as const;

export type SupplyDeed = keyof typeof SUPPLY_DEEDS;
export const SUPPLY_DEED_NAMES = Object.keys(SUPPLY_DEEDS) as SupplyDeed[];

interface TypedAmount {
  readonly value: number;
  readonly typed: string;
}

const SUCH_AS: Readonly<Record<SupplyMeasure, string>> = {
  mass: '12 g',
  volume: '50 mL',
  length: '2.5 m',
  count: '6',
};

/** Reads an amount of one measure as it was typed; `least` is 0 or 1. */
function amountReader(measure: SupplyMeasure, units: Units, label: string, least: 0 | 1) {
  return (typed: string): Reading<TypedAmount> => {
    const reading = readSupplyAmount(typed, measure, units);
    if (!reading.ok) return reading;
    const { value } = reading;
    if (value < least) return refused(`${label}: enter more than nothing, such as ${SUCH_AS[measure]}.`);
    if (value > MOST_OF_SUPPLY) {
      return refused(`${label}: ${showSupplyAmount(MOST_OF_SUPPLY, measure, units, 'down')} is the most.`);
    }
    return { ...reading, value: { value, typed: typed.trim() } };
  };
}

/** The forms of one supply; its lots are offered in the order in which they are used up. */
export function deedFields(reader: Reader, supply: StockedSupply, units: Units) {
  const lots = inOrderOfUse(readSupplyLots(reader, supply.id));
  const left = lotChoices(
    lots.filter(({ onHand }) => onHand > 0),
    supply.measure,
    units,
  );
  const unit = unitOfMeasure(supply.measure, units);
  const amount = (label: string, least: 0 | 1) => {
    const read = amountReader(supply.measure, units, label, least);
    const blank = refused(`${label}: enter an amount, such as ${SUCH_AS[supply.measure]}.`);
    return readingField((typed) => (typed.trim() === '' ? blank : read(typed)), { label, unit });
  };
  const inLengths = isInLengths(supply);
  const fromLot = optionalChosen(left, 'a lot', {
    label: inLengths ? 'Off the length' : 'Lot',
    blank: inLengths ? 'the shortest that is long enough' : 'the one opened first',
  });
  // Of what is not kept by lengths it is not asked.
  const joined = tickField({
    label: 'May be joined',
    hint: 'Else it must come in one length. What the joins take is yours to add.',
  });
  const holders = new Map(
    readSupplyHolds(reader, supply.id).map(({ garmentId, code, name }) => [garmentId, `${code} ${name}`]),
  );
  return {
    hold: {
      amount: amount('Amount', 1),
      garment_id: chosenField(garmentChoices(reader), 'a garment', {
        label: 'For',
        blank: 'choose a garment',
      }),
      lot_id: fromLot,
      joined,
      why: optionalText({ max: 200, label: 'Why' }),
    },
    release: {
      garment_id: chosenField(
        [...holders].map(([id, label]) => ({ value: String(id), label })),
        'a garment that holds some',
        { label: 'Held for' },
      ),
      amount: optionalReading(amountReader(supply.measure, units, 'Amount', 1), { label: 'Amount', unit }),
      why: optionalText({ max: 200, label: 'Why' }),
    },
    use: {
      amount: amount('Amount', 1),
      lot_id: fromLot,
      joined,
      garment_id: optionalChosen(garmentChoices(reader), 'a garment', { label: 'For', blank: 'no garment' }),
      why: optionalText({ max: 200, label: 'Why' }),
    },
    split: {
      lot_id: chosenField(left, 'the length that it was cut off', { label: 'Off the length' }),
      amount: amount('Length cut off', 1),
      why: optionalText({ max: 200, label: 'Why' }),
    },
    count: {
      lot_id: chosenField(lotChoices(lots, supply.measure, units), 'the lot that you counted', {
        label: 'Lot',
      }),
      amount: amount('Amount as counted', 0),
      why: optionalText({ max: 200, label: 'Why' }),
    },
    'write-off': {
      amount: optionalReading(amountReader(supply.measure, units, 'Amount', 1), {
        label: 'Amount',
        unit,
        required: true,
      }),
      all: tickField({ label: 'All that is left' }),
      lot_id: fromLot,
      why: textField({
        max: 200,
        what: 'The reason',
        label: 'Reason',
        suggest: ['spoiled', 'spilt', 'too old', 'broken', 'lost'],
      }),
    },
  };
}

type DeedFields = ReturnType<typeof deedFields>;

function lotChoices(lots: readonly SupplyLot[], measure: SupplyMeasure, units: Units): Choice[] {
  return lots.map((lot) => ({
    value: String(lot.id),
    label: `${sayLotOf(lot)}: ${lot.onHand === 0 ? 'used up' : `${sayLeftOfLot(lot, measure, units)} left`}`,
  }));
}

/** "100 g"; of a length that was begun, of how much it is left: "20.8 m of 25 m". */
export function sayLeftOfLot({ onHand, came }: SupplyLot, measure: SupplyMeasure, units: Units): string {
  const left = sayStock(onHand, measure, units);
  return measure === 'length' && onHand < came ? `${left} of ${sayStock(came, measure, units)}` : left;
}

/** "Lot 4471", or the day that it came. */
export function sayLotOf({ lot, receivedAt }: Pick<SupplyLot, 'lot' | 'receivedAt'>): string {
  return lot === '' ? `Of ${showDay(dayOf(receivedAt))}` : `Lot ${lot}`;
}

function garmentChoices(reader: Reader): Choice[] {
  const garments = reader.all(
    reader.db
      .selectFrom('garment')
      .select(['id', 'code', 'name'])
      .where('finished_at', 'is', null)
      .orderBy('id'),
  );
  return garments.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }));
}

/** The schema of one of the forms, and what it writes. */
export function deedOf(reader: Reader, supply: StockedSupply, units: Units, deed: SupplyDeed) {
  const fields = deedFields(reader, supply, units);
  switch (deed) {
    case 'hold':
      return deedForm(fields.hold, (tx, { amount, lot_id: lotId, garment_id: garmentId, joined, why }) =>
        holdSupply(tx, supply.id, {
          amount: amount.value,
          typed: amount.typed,
          lotId,
          garmentId,
          joined,
          why,
        }),
      );
    case 'release':
      return deedForm(fields.release, (tx, { amount, garment_id: garmentId, why }) =>
        releaseSupply(tx, supply.id, {
          amount: amount?.value ?? null,
          typed: amount?.typed ?? '',
          garmentId,
          why,
        }),
      );
    case 'use':
      return deedForm(fields.use, (tx, { amount, lot_id: lotId, garment_id: garmentId, joined, why }) =>
        useSupply(tx, supply.id, {
          amount: amount.value,
          typed: amount.typed,
          lotId,
          garmentId,
          joined,
          why,
        }),
      );
    case 'split':
      return deedForm(fields.split, (tx, { amount, lot_id: lotId, why }) =>
        splitSupply(tx, supply.id, { amount: amount.value, typed: amount.typed, lotId, why }),
      );
    case 'count':
      return deedForm(fields.count, (tx, { amount, lot_id: lotId, why }) =>
        countSupply(tx, supply.id, { amount: amount.value, typed: amount.typed, lotId, why }),
      );
    case 'write-off':
      return deedForm(fields['write-off'], (tx, { amount, all, lot_id: lotId, why }) => {
        const taken = all ? { value: readLeft(tx, supply.id, lotId), typed: '' } : amount;
        if (!taken) throw invalid('amount', 'Amount: enter it, or tick all that is left.');
        if (taken.value === 0) throw invalid('amount', 'Amount: nothing is left to write off.');
        // What is thrown away may come off several lengths.
        const { value, typed } = taken;
        return writeSupplyOff(tx, supply.id, { amount: value, typed, lotId, joined: true, why });
      });
  }
}

/** What is left and promised to nobody. */
function readLeft(reader: Reader, supplyId: number, lotId: number | null): number {
  const lots = readSupplyLots(reader, supplyId).filter(({ id }) => lotId === null || id === lotId);
  return lots.reduce((sum, lot) => sum + freeOf(lot), 0);
}

function deedForm<F extends DeedFields[SupplyDeed]>(
  fields: F,
  write: (tx: Tx, form: z.output<z.ZodObject<F, z.core.$strict>>) => Answer,
) {
  const schema = z.strictObject(fields);
  return {
    fields,
    schema: schema as z.ZodType<unknown>,
    write: (tx: Tx, form: unknown) => write(tx, form as z.output<typeof schema>),
  };
}

export const LOT_FIELDS = {
  lot: optionalText({ max: 120, label: 'Lot', size: 'short' }),
  opened_on: optionalDay({ label: 'Opened on' }),
};
export const LOT_FORM = z.strictObject(LOT_FIELDS);
