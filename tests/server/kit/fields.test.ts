import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import * as fields from '../../../server/kit/fields.ts';
import { Refusal } from '../../../server/refusal.ts';
import { readForm } from '../../../server/web/post.ts';
import { readPh } from '../../../src/dye/recipe-figures.ts';
import { length } from '../support.ts';

/** What one field makes of a text, or the words in which it refuses it. */
function read<T>(field: z.ZodType<T>, typed: unknown): T | string {
  try {
    return readForm(z.strictObject({ it: field }), { it: typed }).it as T;
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
}

describe('one field', () => {
  it('takes a figure by its own reader, and refuses it in that reader’s words', () => {
    expect(read(fields.readingField(readPh), '4.5')).toBe(45);
    expect(read(fields.readingField(readPh), '')).toMatch(/^Enter a number/);
    expect(read(fields.optionalReading(readPh), ' ')).toBeNull();
    expect(read(fields.optionalReading(readPh), '15')).toBe('pH runs from 0 to 14.');
  });

  it('keeps a length as read and as typed', () => {
    expect(read(fields.lengthField('m'), ' 2 3/4 yd ')).toEqual({
      value: length('2.75 yd'),
      typed: '2 3/4 yd',
    });
    expect(read(fields.lengthField('m'), '0')).toBe('The length is too small: enter more than 0.');
    expect(read(fields.lengthField('m', { max: length('5 m') }), '6')).toBe(
      'The length is too large: enter 5 m or less.',
    );
    expect(read(fields.lengthField('m'), '')).toMatch(/./);
  });

  it('is called in a refusal as the form says, else by its label', () => {
    const bounds = { max: length('5 m'), label: 'Bolt of' };
    expect(read(fields.lengthField('m', { ...bounds, what: 'length of one bolt' }), '6')).toBe(
      'The length of one bolt is too large: enter 5 m or less.',
    );
    expect(read(fields.lengthField('m', { max: length('1.475 m'), label: 'Usable width' }), '6')).toBe(
      'The usable width is too large: enter 1.475 m or less.',
    );
  });

  it('takes the first of some words where it is blank, and no fullness', () => {
    const edge = fields.choiceOrFirst(['narrow', 'rolled'], 'an edge');
    expect(['', 'rolled', 'frayed'].map((typed) => read(edge, typed))).toEqual([
      'narrow',
      'rolled',
      'Choose an edge.',
    ]);
    expect(read(fields.optionalFullness(), ' ')).toBeNull();
    expect(read(fields.optionalFullness(), '2 1/2')).toEqual({ value: 2500, typed: '2 1/2' });
  });

  it('takes a currency of ISO 4217, however it is written, and a rate above nought', () => {
    expect(read(fields.currencyField(), ' gbp ')).toBe('GBP');
    expect(read(fields.currencyField('KWD'), '')).toBe('KWD');
    for (const typed of ['', 'EURO', '€', 'E1R', 'QQQ'])
      expect(read(fields.currencyField(), typed)).toMatch(/currency code/);
    expect(read(fields.optionalRate(), '3.25')).toBe(3_250_000);
    expect(read(fields.optionalRate(), ' ')).toBeNull();
    expect(read(fields.optionalRate(), '0')).toMatch(/above nought/);
  });

  it('gives null for what was left blank only where that is allowed', () => {
    expect(read(fields.optionalLength('cm'), '  ')).toBeNull();
    expect(read(fields.optionalMoney('EUR'), '')).toBeNull();
    expect(read(fields.optionalWhole({ min: 0, max: 9 }), undefined)).toBeNull();
    expect(read(fields.optionalDay(), '')).toBeNull();
    expect(read(fields.optionalId('a place'), '')).toBeNull();
    expect(read(fields.moneyField('EUR'), '')).toMatch(/./);
    expect(read(fields.idField('a cloth'), '')).toBe('Choose a cloth.');
  });

  it('takes no number that only a machine would write', () => {
    for (const odd of ['0x10', '1e3', 'Infinity', 'NaN', '٣', '-4', '1.5']) {
      expect(read(fields.wholeField({ min: 0, max: 100 }), odd)).toMatch(/[a-z]/);
      expect(read(fields.idField('a cloth'), odd)).toBe('Choose a cloth.');
    }
  });

  it('knows the days of the calendar', () => {
    expect(read(fields.optionalDay(), '2028-02-29')).toBe('2028-02-29');
    expect(read(fields.optionalDay(), '2026-02-29')).toContain('is not a day');
    expect(read(fields.optionalDay(), '29.2.2028')).toContain('is not a day');
  });

  it('takes text of its length, and line breaks only where there are lines', () => {
    expect(read(fields.textField({ max: 4 }), ' Ana ')).toBe('Too long: enter 4 characters at most.');
    expect(read(fields.textField({ max: 9 }), ' Ana ')).toBe('Ana');
    expect(read(fields.textField({ max: 9, label: 'The name' }), ' ')).toBe('The name must be filled in.');
    expect(read(fields.textField({ max: 9 }), 'a\nb')).toContain('control characters');
    expect(read(fields.textField({ max: 9, lines: true }), 'a\nb')).toBe('a\nb');
    expect(read(fields.textField({ max: 9, lines: true }), 'a\u0000b')).toContain('control characters');
    expect(read(fields.textField({ max: 2 }), '🧵🧵')).toBe('🧵🧵');
  });

  it('takes a choice that was offered, and no other', () => {
    expect(read(fields.choiceField(['ring', 'open'], 'ring or open'), 'open')).toBe('open');
    expect(read(fields.choiceField(['ring', 'open'], 'ring or open'), 'shut')).toBe('Choose ring or open.');
  });
});

describe('rows', () => {
  const row = z.strictObject({ length: fields.lengthField('m'), lot: fields.optionalText({ max: 3 }) });
  const rows = fields.rowsField(row, { max: 3, what: 'pieces' });

  it('leaves out the blank ones and keeps the place of the others in what it says of them', () => {
    expect(
      read(rows, [
        { length: '', lot: '' },
        { length: '1', lot: '' },
      ]),
    ).toEqual([{ length: { value: length('1 m'), typed: '1' }, lot: '' }]);
    const result = z
      .strictObject({ it: rows })
      .safeParse({ it: [{ length: '' }, { length: 'x', lot: 'long' }] });
    expect(result.error?.issues.map((issue) => issue.path.join('.'))).toEqual(['it.1.length', 'it.1.lot']);
  });

  it('are at least one and at most what a form may hold', () => {
    expect(read(rows, [])).toBe('Give at least one of the pieces.');
    expect(read(rows, undefined)).toBe('Give at least one of the pieces.');
    expect(read(rows, Array(4).fill({ length: '1' }))).toBe('Too many: enter at most 3 pieces at once.');
  });

  it('take no field that is not theirs', () => {
    expect(read(rows, [{ length: '1', shade: 'red' }])).toMatch(/shade/);
  });
});
