import type { Typed } from '../../../server/kit/typed.ts';
import type { TestHouse } from '../support.ts';

/** Ids of what a furnished shelf has, as texts for forms. */
export interface Furnished {
  readonly organza: string;
  readonly net: string;
  readonly white: string;
  readonly moss: string;
  readonly rack: string;
  readonly supplier: string;
}

/** Two cloths (organza 150/147 cm, net 280/275 cm), a ground, a shade, a place and a supplier, through the pages. */
export async function furnish(house: TestHouse): Promise<Furnished> {
  const organza = await made(house, '/shelf/cloths/new', {
    name: 'Nylon organza',
    construction: 'organza',
    'fibres.0.fibre': 'nylon',
    width: '150',
    usable_width: '147',
    mass_per_area: '30',
  });
  const net = await made(house, '/shelf/cloths/new', {
    name: 'Soft net',
    construction: 'net',
    'fibres.0.fibre': 'nylon',
    'fibres.0.share': '80',
    'fibres.1.fibre': 'elastane',
    'fibres.1.share': '20',
    width: '280',
    usable_width: '275',
  });
  const white = await made(house, '/shelf/shades/new', { name: 'White', ground: 'yes', hex: '#ffffff' });
  const moss = await made(house, '/shelf/shades/new', { name: 'Moss' });
  await house.submit('/shelf/places', { name: 'Rack 1' }).expect(303);
  const supplier = house.write(
    (tx) => tx.run(tx.db.insertInto('supplier').values({ name: 'Weaver', lead_days: null })).lastId,
  );
  return { organza, net, white, moss, rack: '1', supplier: String(supplier) };
}

async function made(house: TestHouse, path: string, fields: Record<string, string>): Promise<string> {
  const answer = await house.submit(path, fields).expect(303);
  return /\/(\d+)\?done=/.exec(answer.headers.location ?? '')?.[1] ?? '';
}

/** Rows of a delivery as a form sends them. */
export function rows(...pieces: Record<string, string>[]): Record<string, string> {
  return Object.fromEntries(
    pieces.flatMap((piece, row) =>
      Object.entries(piece).map(([name, text]) => [`pieces.${row}.${name}`, text]),
    ),
  );
}

interface FieldOnPage {
  readonly name: string;
  readonly value: string;
  readonly checked?: boolean;
}

/** What stands in the fields of a page, lists of rows included, as its form would send it. */
export function typedIn(fields: Record<string, FieldOnPage | Record<string, FieldOnPage>[]>): Typed {
  return Object.fromEntries(
    Object.values(fields)
      .flatMap((field) => (Array.isArray(field) ? field.flatMap((row) => Object.values(row)) : [field]))
      .filter(({ name }) => name !== undefined)
      .map(({ name, value, checked }) => [name, checked === false ? '' : value]),
  );
}
