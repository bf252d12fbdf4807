import { isDeepStrictEqual } from 'node:util';
import type { Statement } from 'better-sqlite3';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Book } from '../../server/database/book.ts';
import { newKey } from '../server/support.ts';
import { addressesOf } from './addresses.ts';
import { type DemoHouse, openDemoHouse } from './demo.ts';
import { formTo, openedForms } from './opened-forms.ts';

/** Forms that say anew what the book has: saved as they open they change nothing. */
const CHANGES = [
  /^\/by-when\/(hours|people)$/,
  /^\/garments\/\w+\/by-when$/,
  /^\/garments\/\w+\/edit$/,
  /^\/garments\/\w+\/tiers\/\d+$/,
  /^\/garments\/\w+\/parts\/\d+$/,
  /^\/dye-bench\/(dyes|vessels)\/\d+$/,
  /^\/dye-bench\/(dyes|recipes)\/\d+\/label$/,
  /^\/dye-bench\/balance$/,
  /^\/orders\/\w+\/edit$/,
  /^\/orders\/\w+\/numbers$/,
  /^\/orders\/samples\/\d+\/answers$/,
  /^\/shelf\/receipts\/\d+\/numbers$/,
  /^\/orders\/rules$/,
  /^\/orders\/suppliers\/\d+(\/terms)?$/,
  /^\/setup$/,
  /^\/setup\/(fuel|rates|rates\/\w+|people\/\d+|labels\/sheets\/\d+)$/,
  /^\/shelf\/(cloths|shades)\/\d+\/edit$/,
  /^\/shelf\/places\/\d+\/names$/,
  /^\/supplies\/\d+\/(edit|lots\/\d+)$/,
];

/** Forms that do something or make something new: they open to be filled in. */
const DEEDS = [
  /^\/by-when\/closed-days$/,
  /\/new$/,
  /^\/setup\/(working-as|people|lists|copies|copies\/made|water|labels\/(addresses|sheets|runs))$/,
  /^\/(orders\/suppliers|dye-bench\/dyes|dye-bench\/vessels|shelf\/places|shelf\/receive)$/,
  /^\/cutting-table\//,
  /^\/shelf\/lots\/[\w.]+\/(colour|joins|shade)$/,
  /^\/shelf\/readings\/new$/,
  /^\/shelf\/pleating\/strips\/\d+\/(back|steps)$/,
  /^\/shelf\/together\/[\w.]+\/[\w.]+$/,
  /^\/shelf\/pieces\/\w+\/(inspections|splits|moves|recounts|widths|write-offs|returns|flaws|uses|pleating)$/,
  /^\/dye-bench\/batches\/\w+\/(logs\/\w+|finish|results|swatches|notes|addition|by-hand|card|pots|repeat|correction|dip|dip\/moves)$/,
  /^\/dye-bench\/recipes\/\d+\/(copy|by-label)$/,
  /^\/dye-bench\/swatches\/\w+\/(results|swatches)$/,
  /^\/setup\/lists\/supplies$/,
  /^\/supplies\/(receive|\d+\/(holds|releases|uses|splits|counts|write-offs|put-aways|take-backs))$/,
  /^\/garments\/\w+\/(parts\/new\/\w+|budgets|copies|tiers\/\d+\/thread)$/,
  /^\/dye-bench\/first-recipe\/(swatches|take-outs)$/,
  /^\/garments\/\w+\/(parts\/new\/\w+|as-made|budgets|copies|tiers\/\d+\/thread)$/,
  /^\/orders\/\w+\/receipts$/,
  /^\/orders\/(reservations|samples)$/,
  /^\/orders\/reservations\/\d+\/steps$/,
  /^\/orders\/returns\/\d+\/credits$/,
  /^\/orders\/offers\/of-receipts\/\d+$/,
  /^\/orders\/rules\/spares$/,
  /^\/dye-bench\/day\?/,
  /^\/shelf\/cloths\/\d+\/wash-tests$/,
  /^\/(join|setup\/people\/\d+\/passphrase)$/,
];

let house: DemoHouse;
beforeAll(async () => {
  house = await openDemoHouse();
});
afterAll(() => house.shut());

// What a saving writes whatever it says: who did it when, the state that the form was drawn from, how it was typed, and
// what is only ever added to; of that the form itself is compared.
const KEPT_BESIDE = [
  'request',
  'garment_version',
  'tier_size',
  'sqlite_sequence',
  'supplier_terms',
  'grading_rule',
];
const OF_EACH_SAVING = [
  'id',
  'version',
  'changed_at',
  'changed_by_id',
  'after_entry_id',
  'from_on',
  'request_key',
  'at',
  'typed',
  'line_id',
  'person_id',
];

/** What is compared of every table, a query each. */
function readersOf({ connection }: Book): Map<string, Statement<[], string>> {
  const tables = connection
    .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table'")
    .pluck();
  const columns = connection.prepare<[string], string>('SELECT name FROM pragma_table_info(?)').pluck();
  return new Map(
    tables
      .all()
      .filter((table) => !KEPT_BESIDE.includes(table))
      .map((table) => {
        const said = columns.all(table).filter((name) => !OF_EACH_SAVING.includes(name));
        // A photo or a plan as bytes has no place in JSON.
        const shown = said.map(
          (name) => `'${name}', iif(typeof("${name}") = 'blob', hex("${name}"), "${name}")`,
        );
        return [
          table,
          connection.prepare<[], string>(`SELECT json_object(${shown.join()}) FROM "${table}"`).pluck(),
        ];
      }),
  );
}

/** Every row of the book by its table, as texts. */
function rowsOf(readers: ReturnType<typeof readersOf>): Map<string, readonly string[]> {
  return new Map([...readers].map(([table, reader]) => [table, reader.all()]));
}

/** The rows of one look at the book that another has not, as texts that tell their table. */
function rowsBeyond(
  rows: ReadonlyMap<string, readonly string[]>,
  others: ReadonlyMap<string, readonly string[]>,
): string[] {
  return [...rows].flatMap(([table, ofTable]) => {
    const known = others.get(table) ?? [];
    if (isDeepStrictEqual(ofTable, known)) return [];
    const among = new Set(known);
    return ofTable.filter((row) => !among.has(row)).map((row) => `${table} ${row}`);
  });
}

function differing(
  before: Readonly<Record<string, string>>,
  after: Readonly<Record<string, string>>,
): string[] {
  const names = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...names]
    .filter((name) => !['request_key', 'version'].includes(name) && before[name] !== after[name])
    .map((name) => `${name}: “${before[name]}” became “${after[name]}”`);
}

/** Saves every form that says anew what is there, as it opens; gives how many, and what each of them did that it should not. */
async function saveAll(personId: number): Promise<{ readonly saved: number; readonly wrong: string[] }> {
  const agent = supertest
    .agent(house.origin)
    .set('Cookie', `clothroom-who-${new URL(house.origin).port}=${personId}`);
  const wrong: string[] = [];
  const done = new Set<string>();
  const readers = readersOf(house.book);
  let before = rowsOf(readers);
  for (const address of house.routes.flatMap((route) => addressesOf(route, house.book))) {
    const { text } = await agent.get(address).set('Accept', 'text/html');
    for (const form of openedForms(text)) {
      const { action } = form;
      if (done.has(action)) continue;
      done.add(action);
      if (!CHANGES.some((pattern) => pattern.test(action))) {
        if (!DEEDS.some((pattern) => pattern.test(action)))
          wrong.push(`${action} of ${address}: say in this test what it is`);
        continue;
      }
      const { fields } = form;
      const sent = await agent
        .post(action)
        .set('Origin', house.origin)
        .set('Accept', 'application/json')
        .type('form')
        .send({ ...fields, request_key: newKey() });
      // A finished garment is opened to be looked at; it says that it must be reopened first.
      if (sent.status === 409 && JSON.stringify(sent.body.error).includes('reopen it first')) continue;
      if (sent.status !== 200) {
        wrong.push(`${action} of ${address}: ${sent.status} ${JSON.stringify(sent.body.error)}`);
        continue;
      }
      const again = formTo((await agent.get(address).set('Accept', 'text/html')).text, action);
      wrong.push(...differing(fields, again?.fields ?? {}).map((what) => `${action} of ${address}: ${what}`));
      const after = rowsOf(readers);
      for (const row of rowsBeyond(before, after)) wrong.push(`${action} of ${address} lost ${row}`);
      for (const row of rowsBeyond(after, before)) wrong.push(`${action} of ${address} wrote ${row}`);
      before = after;
    }
  }
  const saved = [...done].filter((action) => CHANGES.some((pattern) => pattern.test(action))).length;
  return { saved, wrong };
}

/** Makes what is seldom: a tier at the waist that was left blank, allowances of nothing, odd fractions, names with signs. */
async function addEdges(): Promise<void> {
  const post = async (path: string, body: object) => {
    const sent = await supertest(house.origin)
      .post(path)
      .set('Origin', house.origin)
      .set('Accept', 'application/json')
      .send({ request_key: newKey(), ...body });
    if (sent.status !== 200) throw new Error(`${path} ${JSON.stringify(sent.body)}`);
    return sent.body.location as string;
  };
  const tier = {
    cloth_id: '1',
    shade_id: '1',
    second_shade_id: '2',
    depth: '7 1/3 in',
    fullness: '2 1/3',
    ruffle_depth: '5 mm',
  };
  const girths = [
    { drop: '0', girth: '95' },
    { drop: '39 3/8 in', girth: '295' },
  ];
  const garment = await post('/garments/new', {
    name: 'Edges “&” <ends>',
    note: 'Two\nlines',
    girths,
    tiers: [tier, { ...tier, ruffle_shade_id: 'first' }],
    overlap: '1/8 in',
  });
  await post(`${garment}/tiers/new`, {
    name: 'Open at the waist',
    hangs: 'foundation',
    drop: '0',
    depth: '1 m',
    fullness: '1',
    closing: 'open',
    cloth_id: '2',
    seam: '0',
    end: '0',
    hem: '0',
    hang_seam: '0',
    heading: '3/4',
    direction: 'along',
    strip_length: '2 yd 18 in',
    offset: '3',
    finish_repeat: 'yes',
    blocks: [
      { shade_id: '1', strips: '3', lots: 'any' },
      { shade_id: '1', strips: '1', cloth_id: '1', lots: 'meet' },
    ],
  });
  await post('/shelf/shades/new', { name: 'Grey "none"', l: '50', a: '-0.04', b: '0' });
  await post('/shelf/cloths/new', {
    name: 'Net of thirds',
    construction: 'net',
    fibres: [
      { fibre: 'nylon', share: '33.33' },
      { fibre: 'polyester', share: '66.67' },
    ],
    width: '58 1/3 in',
    usable_width: '57 7/8 in',
    mass_per_area: '0.75 oz/yd²',
  });
  await post('/orders/suppliers', { name: 'Same day & sons', lead_days: '0' });
  await post('/dye-bench/vessels', { name: 'Jug ½', volume: '2.5 US gal', empty: '1 lb 3 oz' });
}

const [METRIC, IMPERIAL] = [1, 4];

describe('every form that says anew what is there, saved as it opens', () => {
  it('is accepted and changes nothing, in the demo and a book of edges, for a metric and an imperial reader', {
    timeout: 300_000,
  }, async () => {
    await addEdges();
    for (const person of [METRIC, IMPERIAL]) {
      const { saved, wrong } = await saveAll(person ?? 0);
      expect(wrong).toEqual([]);
      expect(saved).toBeGreaterThan(70);
    }
  });
});
