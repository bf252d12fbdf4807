import { freeTicks } from '../../src/ledger/entries.ts';
import { showLength } from '../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../database/book.ts';
import { logNote } from '../dye-bench/pot/log-verbs.ts';
import type { Quantity } from '../kit/fields.ts';
import { showMoment } from '../kit/when.ts';
import { readHeldForTier, readPiece } from '../ledger/state.ts';
import { recountPiece, releaseLength, writeOffLength } from '../ledger/verbs.ts';
import { invalid, Refusal } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import { type BathWork, readBathWork } from './bath-work.ts';
import { type ClothWork, readClothWork } from './cloth-work.ts';
import type { ToldForm } from './form.ts';
import type { SentWork } from './sent.ts';

const MOST_WHY = 200;

/**
 * Enters what really happened, by the verbs that there are and under their guards; what did not happen is only said.
 *
 * @throws {Refusal} whatever the ledger or the log refuses of it
 */
export function tellWhatHappened(tx: Tx, sent: SentWork, form: ToldForm, asker: Asker): Answer {
  const cloth = readClothWork(tx, sent, asker);
  const bath = cloth ? null : readBathWork(tx, sent);
  const location = cloth?.location ?? bath?.location ?? '/';
  if (form.way === 'none') return { location, said: `Dropped: ${sent.what}. Nothing was entered.` };
  if (cloth) return { location, ...tellOfCloth(tx, cloth, sent, form, asker) };
  if (bath) return { ...tellOfBath(tx, bath, sent, form), location };
  throw invalid('way', 'Choose “corrected” or “dropped”: nothing else can be done with this.');
}

type Said = Omit<Answer, 'location'>;

function tellOfCloth(tx: Tx, work: ClothWork, sent: SentWork, form: ToldForm, asker: Asker): Said {
  switch (form.way) {
    case 'spoiled':
      return { said: writeOffSpoiled(tx, work, sent, form.spoiled_length, asker) };
    case 'other piece': {
      if (form.piece === '') throw invalid('piece', 'Enter the code of the piece, such as B12.');
      if (!work.fromOther) throw invalid('way', 'This can be of no other piece: choose another way.');
      const { piece, length, more_than_wanted: moreThanWanted, lots_meet: lotsMeet } = form;
      return { said: work.fromOther(tx, { piece, length, moreThanWanted, lotsMeet }) };
    }
    case 'count':
      return countAndEnter(tx, work, form, asker);
    default:
      throw invalid('way', 'Choose what happened with the cloth.');
  }
}

/** Cloth that was cut and is of no use: written off, out of what was held for it where no more is free. */
function writeOffSpoiled(
  tx: Tx,
  { from, tiers }: ClothWork,
  { what }: SentWork,
  measured: Quantity | null,
  { units }: Asker,
): string {
  if (measured && from.length > 1)
    throw invalid(
      'spoiled_length',
      'This was of several pieces: leave the length blank, or write each off on its own page.',
    );
  const said = from.map(({ pieceId, lengthTicks: planned }) => {
    const lengthTicks = measured?.value ?? planned;
    if (lengthTicks === null) throw invalid('spoiled_length', 'Enter the length that was spoiled.');
    let missing = lengthTicks - freeTicks(readPiece(tx, pieceId));
    for (const { tierId } of tiers) {
      const given = Math.min(missing, readHeldForTier(tx, pieceId, tierId));
      if (given <= 0) continue;
      releaseLength(tx, pieceId, tierId, { lengthTicks: given, typed: '', why: 'spoiled' });
      missing -= given;
    }
    writeOffLength(tx, pieceId, {
      lengthTicks,
      typed: measured?.typed ?? '',
      why: `spoiled: ${what}`.slice(0, MOST_WHY),
    });
    return `${showLength(lengthTicks, units, 'down')} of ${readPiece(tx, pieceId).code} written off as spoiled.`;
  });
  return said.join(' ');
}

/** The piece as it is measured now, and then the work: what the book says is left afterwards is what was measured. */
function countAndEnter(tx: Tx, work: ClothWork, form: ToldForm, { units }: Asker): Said {
  const { counted, more_than_wanted: moreThanWanted, lots_meet: lotsMeet } = form;
  const [from, ...more] = work.from;
  if (!from || from.lengthTicks === null || more.length > 0)
    throw invalid('way', 'This takes no one length of one piece: count the piece on its own page.');
  if (!counted) throw invalid('counted', 'Enter the length that was measured.');
  const before = readPiece(tx, from.pieceId);
  const lengthTicks = counted.value + (work.kind === 'held' ? 0 : from.lengthTicks);
  atField('length', 'counted', () =>
    recountPiece(tx, from.pieceId, { lengthTicks, typed: counted.typed, why: 'measured after the work' }),
  );
  // What is no longer planned as it was cut is entered as the strips that it gave.
  const taken = work.tiers.length === 1 ? { value: from.lengthTicks, typed: '' } : null;
  const asSent = work.standsAsSent(tx) && !moreThanWanted && !lotsMeet;
  const { said, after } =
    asSent || !work.fromOther
      ? work.again(tx)
      : { said: work.fromOther(tx, { piece: before.code, length: taken, moreThanWanted, lotsMeet }) };
  const was = `${before.code} was recounted: ${showLength(lengthTicks, units, 'down')} instead of ${showLength(before.onHandTicks, units, 'down')}.`;
  return { said: `${was} ${said}`, ...(after ? { after } : {}) };
}

/** A verb refuses the length by the name that it has on its own form. */
function atField<T>(theirs: string, ours: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Refusal) || error.kind !== 'invalid') throw error;
    const problems = error.problems.map((problem) =>
      problem.field === theirs ? { ...problem, field: ours } : problem,
    );
    throw new Refusal('invalid', error.message, problems, error.wayOn);
  }
}

function tellOfBath(tx: Tx, work: BathWork, { what, doneAt, reason }: SentWork, form: ToldForm): Said {
  if (form.way === 'other bath') {
    if (!form.bath) throw invalid('bath', 'Enter the number of the bath.');
    return work.inBath(tx, form.bath);
  }
  if (form.way !== 'note') throw invalid('way', 'Choose what happened at the pot.');
  const lines = [`${what}, done ${showMoment(doneAt)}.`, `Not logged as that: ${reason}`, form.note];
  return logNote(
    tx,
    work.batch,
    lines
      .filter((line) => line !== '')
      .join('\n')
      .slice(0, 2000),
  );
}
