import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { chosenField, optionalChoice, optionalChosen } from '../../../server/kit/choices.ts';
import {
  choiceField,
  lengthField,
  moneyField,
  optionalDay,
  optionalText,
  optionalWhole,
  placeField,
  rowsField,
  textField,
  tickField,
  withPlaces,
} from '../../../server/kit/fields.ts';
import { askedAs, drawFields, drawRow, unasked } from '../../../server/kit/form-drawing.ts';

const CLOTHS = [{ value: '3', label: 'Organza' }];

const row = z.strictObject({
  length: lengthField('m', { max: 1600, label: 'Length' }),
  note: optionalText({ max: 20, label: 'Note' }),
});
const rows = rowsField(row, { max: 4, rows: 2, spare: 1, what: 'lengths' });
const fields = {
  name: textField({ max: 80, label: 'Name', hint: 'As on the bolt.' }),
  note: optionalText({ max: 2000, lines: true, label: 'Note' }),
  cloth_id: chosenField(CLOTHS, 'a cloth', { label: 'Cloth', blank: 'choose a cloth' }),
  other_id: optionalChosen(CLOTHS, 'a cloth', { label: 'Other cloth' }),
  days: optionalWhole({ min: 0, max: 730, label: 'Comes in', unit: 'days' }),
  price: moneyField('EUR', { label: 'Price' }),
  per: choiceField(['m', 'yd'], 'm or yd', { label: 'For', options: [{ value: 'm', label: 'a metre' }] }),
  from_on: optionalDay({ label: 'From' }),
  gone: tickField({ label: 'No longer offered' }),
  rows,
};

describe('a form drawn from what reads it', () => {
  const drawn = drawFields(fields, { name: 'Plum', gone: 'yes', 'rows.1.length': '2,5' });

  it('has of each field what it is called, what was typed, and how much it takes', () => {
    expect(drawn.name).toEqual({
      name: 'name',
      label: 'Name',
      hint: 'As on the bolt.',
      maxlength: 80,
      value: 'Plum',
    });
    expect(drawn.note).toMatchObject({ kind: 'textarea', maxlength: 2000, required: false, value: '' });
    expect(drawn.days).toMatchObject({ kind: 'number', size: 'short', unit: 'days', required: false });
    expect(drawn.price).toMatchObject({ unit: 'EUR', size: 'short', maxlength: 40 });
    expect(drawn.from_on).toMatchObject({ kind: 'date', required: false });
    expect(drawn.per.options).toEqual([{ value: 'm', label: 'a metre' }]);
  });

  it('offers what it takes, with a blank choice where that has words', () => {
    expect(drawn.cloth_id.options).toEqual([{ value: '', label: 'choose a cloth' }, ...CLOTHS]);
    expect(drawn.other_id).toMatchObject({ options: CLOTHS, required: false });
  });

  it('ticks what was ticked', () => {
    expect(drawn.gone).toMatchObject({ kind: 'checkbox', value: 'yes', checked: true });
    expect(drawFields(fields, {}).gone.checked).toBe(false);
  });

  it('keeps bounds to itself, which the page would take for figures as typed', () => {
    for (const name of ['max', 'min', 'what', 'lines', 'blank'])
      expect(Object.values(drawn).filter((field) => name in field)).toEqual([]);
  });

  it('has the rows that were typed with blank ones below, never more than it takes', () => {
    expect(drawn.rows.map(({ length }) => [length.name, length.value, length.unit])).toEqual([
      ['rows.0.length', '', 'm'],
      ['rows.1.length', '2,5', 'm'],
      ['rows.2.length', '', 'm'],
    ]);
    expect(drawFields(fields, {}).rows).toHaveLength(2);
    expect(drawFields(fields, {}, { rows: 3 }).rows).toHaveLength(3);
    expect(drawFields(fields, { 'rows.3.note': 'x' }, { rows: 9 }).rows.map(({ index }) => index)).toEqual([
      0, 1, 2, 3,
    ]);
  });

  it('draws a list that is checked further as its rows', () => {
    const twice = askedAs(
      rows.refine((read) => read.length !== 2),
      rows,
    );
    expect(twice.safeParse([{ length: '1' }, { length: '2' }]).success).toBe(false);
    expect(drawFields({ twice }, {}).twice.map(({ note }) => note.name)).toEqual([
      'twice.0.note',
      'twice.1.note',
    ]);
  });

  it('has no field for what a button sends, nor for the place of a row, which blank rows count in', () => {
    const placed = rowsField(z.strictObject({ note: optionalText({ max: 20 }), place: placeField() }), {
      max: 4,
      what: 'notes',
      prepare: withPlaces,
    });
    const drawnPlaced = drawFields({ act: unasked(optionalText({ max: 20 })), placed }, { act: 'more' });
    expect(Object.keys(drawnPlaced)).toEqual(['placed']);
    expect(Object.keys(drawnPlaced.placed[0] ?? {})).toEqual(['index', 'note']);
    expect(placed.parse([{ note: '' }, { note: 'torn' }])).toEqual([{ note: 'torn', place: 1 }]);
  });

  it('draws one row wherever it stands, beyond all that the page would show', () => {
    const typed = { 'rows.120.length': '3', 'rows.1.length': '2,5' };
    const row = drawRow('rows', rows.rowFields, 120, typed);
    expect([row.index, row.length.name, row.length.value]).toEqual([120, 'rows.120.length', '3']);
  });

  it('leaves a choice open where its first option says so, and takes no other word', () => {
    const kinds = [{ value: 'gas', label: 'Gas' }] as const;
    const kind = optionalChoice(kinds, 'a heater', { blank: 'None' });
    expect(drawFields({ kind }, {}).kind).toMatchObject({
      options: [{ value: '', label: 'None' }, ...kinds],
      filter: true,
    });
    expect(['', 'gas'].map((typed) => kind.parse(typed))).toEqual(['', 'gas']);
    expect(kind.safeParse('wood').error?.issues[0]?.message).toBe('Choose a heater.');
  });

  it('draws a field that is checked or changed further as the field it reads', () => {
    const plain = optionalText({ max: 60, label: 'Mill lot' });
    const further = {
      lot: plain.transform((typed) => (typed === '-' ? '' : typed)),
      checked: plain.refine((typed) => typed !== 'none', 'Say which.'),
    };
    const asked = { label: 'Mill lot', maxlength: 60, required: false };
    expect(drawFields(further, { lot: 'A7' })).toEqual({
      lot: { ...asked, name: 'lot', value: 'A7' },
      checked: { ...asked, name: 'checked', value: '' },
    });
  });
});
