import { z } from 'zod';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { queryNumber, queryText } from '../kit/address.ts';
import { idField, textField, wholeField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { countOf } from '../kit/words.ts';
import { conflict, invalid } from '../refusal.ts';
import type { Page } from '../web/page-frame.ts';
import { isOwnMachine, readAddress } from './address-form.ts';
import { readSheets } from './sheets.ts';
import { findThing, type Thing } from './things.ts';

const MOST_LABELS = 500;

const RUN_FIELDS = {
  things: textField({
    max: 20_000,
    what: 'What the labels are for',
    label: 'Labels for',
    hint: 'Codes and names of places, one a line or with commas.',
    lines: true,
    rows: 8,
  }),
  sheet_id: idField('a label sheet', { label: 'Label sheet' }),
  first_place: wholeField({
    min: 1,
    max: 200,
    label: 'Start at label',
    hint: 'Row by row, on a sheet already begun.',
    size: 'short',
  }),
};

export const RUN_FORM = z.strictObject(RUN_FIELDS);

/** The form that asks what is printed; filled in for the codes, the delivery or the place that the address names. */
export function runFormPage(reader: Reader, query: unknown, typed: Typed = {}) {
  const address = readAddress(reader)?.address ?? '';
  const sheets = readSheets(reader).map((sheet) => ({
    value: String(sheet.id),
    label: `${sheet.name}: ${sheet.columns * sheet.rows} on ${sheet.paper}`,
  }));
  const fields = drawFields(RUN_FIELDS, {
    things: wantedThings(reader, query).join('\n'),
    sheet_id: sheets[0]?.value ?? '',
    first_place: '1',
    ...typed,
  });
  const data = {
    requestKey: mintKey(),
    address,
    ownMachine: isOwnMachine(address),
    fields: { ...fields, sheet_id: { ...fields.sheet_id, options: sheets } },
  };
  return { view: 'labels/run-form', data, title: 'Print labels', room: 'setup' } satisfies Page;
}

function wantedThings(reader: Reader, query: unknown): string[] {
  const receipt = queryNumber(query, 'receipt');
  const place = queryNumber(query, 'place');
  const pieces = reader.db.selectFrom('piece').select('piece.code').where('on_hand_ticks', '>', 0);
  if (place !== null) {
    return reader.all(pieces.where('place_id', '=', place).orderBy('piece.id')).map(({ code }) => code);
  }
  if (receipt !== null) {
    const received = reader.db
      .selectFrom('entry')
      .select('piece_id')
      .where('receipt_id', '=', receipt)
      .where('kind', '=', 'received');
    return reader.all(pieces.where('piece.id', 'in', received).orderBy('piece.id')).map(({ code }) => code);
  }
  return splitThings(reader, queryText(query, 'things'));
}

/** One a line or with commas between; a line that names a place as a whole, “Rack 2, top”, is not parted. */
function splitThings(reader: Reader, text: string): string[] {
  const lines = text.split(/[\r\n]+/).map((line) => line.trim());
  return lines
    .flatMap((line) => (findThing(reader, line) ? [line] : line.split(/[,;]+/)))
    .map((each) => each.trim())
    .filter((each) => each !== '');
}

/** Notes what is printed, with each piece's length as it is now, and leads to the sheets. */
export function startRun(tx: Tx, form: z.output<typeof RUN_FORM>): Answer {
  const address = readAddress(tx);
  if (!address) {
    const wayOn = { text: 'Write the address down', href: '/setup/labels' };
    throw conflict('The codes need the address of the workroom, and none is written down yet.', wayOn);
  }
  const sheet = readSheets(tx).find(({ id }) => id === form.sheet_id);
  if (!sheet) throw invalid('sheet_id', 'Choose a label sheet.');
  const onSheet = sheet.columns * sheet.rows;
  if (form.first_place.value > onSheet)
    throw invalid('first_place', `${sheet.name} has ${onSheet} labels: start at 1 to ${onSheet}.`);
  const things = readThings(tx, form.things);
  const run = tx.run(
    tx.db.insertInto('label_run').values({
      label_sheet_id: sheet.id,
      label_address_id: address.id,
      first_place: form.first_place.value,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  things.forEach((thing, index) => {
    tx.run(
      tx.db.insertInto('label').values({
        label_run_id: run.lastId,
        position: index + 1,
        piece_id: thing.kind === 'piece' ? thing.id : null,
        batch_id: thing.kind === 'batch' ? thing.id : null,
        place_id: thing.kind === 'place' ? thing.id : null,
        on_hand_ticks: thing.kind === 'piece' ? onHandOf(tx, thing.id) : null,
      }),
    );
  });
  const labels = countOf(things.length, 'label is', 'labels are');
  return { location: `/setup/labels/runs/${run.lastId}`, said: `${labels} ready to print.` };
}

/** @throws {Refusal} invalid, naming every code that nothing has */
function readThings(tx: Tx, text: string): Thing[] {
  const given = splitThings(tx, text);
  const found = given.map((each) => findThing(tx, each));
  const missing = given.filter((_, index) => found[index] === undefined);
  if (missing.length > 0) {
    const named = missing
      .slice(0, 10)
      .map((each) => `“${each.slice(0, 60)}”`)
      .join(', ');
    const more = missing.length > 10 ? ` and ${missing.length - 10} more` : '';
    throw invalid('things', `There is no piece, batch or place ${named}${more}: check the codes.`);
  }
  const things = found.filter((thing) => thing !== undefined);
  if (things.length === 0)
    throw invalid('things', 'Give the code of at least one piece or batch, or a place.');
  if (things.length > MOST_LABELS) throw invalid('things', `Print at most ${MOST_LABELS} labels at once.`);
  return things;
}

function onHandOf(tx: Tx, pieceId: number): number {
  const piece = tx.first(tx.db.selectFrom('piece').select('on_hand_ticks').where('id', '=', pieceId));
  return piece?.on_hand_ticks ?? 0;
}
