import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { Refusal } from '../../../server/refusal.ts';
import { readBody } from '../../../server/web/body.ts';

const body = (raw: unknown) => JSON.parse(JSON.stringify(readBody(raw).body));

describe('reading a body', () => {
  it('makes rows of dotted names, in whatever order they come', () => {
    expect(
      body({ name: 'Ana', 'pieces.1.length': '2 m', 'pieces.0.length': '1 m', 'pieces.0.lot': 'A' }),
    ).toEqual({
      name: 'Ana',
      pieces: [{ length: '1 m', lot: 'A' }, { length: '2 m' }],
    });
  });

  it('takes what a script sends as rows the same way', () => {
    const raw = { name: 'Ana', count: 3, ring: true, open: false, note: null, pieces: [{ length: '1 m' }] };
    expect(body(raw)).toEqual({
      name: 'Ana',
      count: '3',
      ring: 'yes',
      open: '',
      note: '',
      pieces: [{ length: '1 m' }],
    });
    expect(readBody(raw).typed['pieces.0.length']).toBe('1 m');
  });

  it('reads no body as an empty one', () => {
    expect(body(undefined)).toEqual({});
    expect(body(null)).toEqual({});
  });

  it.each([
    ['a field given twice', { length: ['1', '2'] }],
    ['a list of texts', { pieces: ['1'] }],
    ['a name that is no field name', { 'a b': '1' }],
    ['a prototype', JSON.parse('{"__proto__": {"x": "1"}}')],
    ['a prototype in a row', { 'pieces.0.__proto__': '1' }],
    ['a row far away', { 'pieces.1000.length': '1' }],
    ['a text that is also a list', { pieces: '1', 'pieces.0.length': '2' }],
    ['nesting without end', { a: { b: { c: { d: { e: { f: '1' } } } } } }],
    ['half a character', { name: '\ud800' }],
    ['a list as the whole', [1]],
    ['a text as the whole', 'name=1'],
  ])('refuses %s', (_, raw) => {
    expect(() => readBody(raw)).toThrow(Refusal);
  });

  it('refuses more fields than any form has', () => {
    const many = Object.fromEntries(Array.from({ length: 4001 }, (_, at) => [`field${at}`, '']));
    expect(() => readBody(many)).toThrow('too many fields');
  });

  it('takes no name apart that is longer or deeper than any field has', () => {
    const names = ['a.'.repeat(60_000), 'a.b.c.d.e.f', `a${'b'.repeat(200)}`, `${'a.'.repeat(20_000)}a`];
    const split = vi.spyOn(String.prototype, 'split');
    for (const name of names) expect(() => readBody({ [name]: '1' })).toThrow('impossible name');
    expect(() => readBody({ a: { b: { 'c.d': { 'e.f': '1' } } } })).toThrow('impossible name');
    const taken = split.mock.contexts.map((name) => String(name).length);
    split.mockRestore();
    expect(Math.max(...taken)).toBeLessThanOrEqual(200);
    expect(body({ 'a.0.b.1.c': 'x', 'a.0.b.0.c': 'y' })).toEqual({ a: [{ b: [{ c: 'y' }, { c: 'x' }] }] });
  });

  it('counts its fields once, not again at each of them', () => {
    const many = Object.fromEntries(Array.from({ length: 3_900 }, (_, at) => [`field${at}`, '1']));
    const keys = vi.spyOn(Object, 'keys');
    readBody(many);
    const counted = keys.mock.calls.length;
    keys.mockRestore();
    expect(counted).toBeLessThanOrEqual(1);
  });

  it('refuses or reads whatever comes, and never fails in another way', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (raw) => {
        try {
          readBody(raw);
        } catch (error) {
          expect(error).toBeInstanceOf(Refusal);
        }
      }),
    );
  });
});
