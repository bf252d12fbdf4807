import type { Book } from '../server/database/book.ts';
import { askForFirstSample, judgeFirstSample, takeCredit } from './asked.ts';
import { fitOutBench } from './bench.ts';
import { askForVoile, draftBolts, lookAtPrices } from './buying.ts';
import { describeCloths } from './cloths.ts';
import { compareLots } from './compared-lots.ts';
import { sayDays, sewSome } from './days.ts';
import { receiveStock } from './deliveries.ts';
import { listDyes } from './dyes.ts';
import { dyeAndOrder, makeSash } from './first-weeks.ts';
import { dyeSmoke } from './graded-series.ts';
import { cutFirstTiers, describeGreatSkirt, holdSpume, sewGreatSkirt } from './great-skirt-weeks.ts';
import { Hand } from './hand.ts';
import { printLabels } from './labels.ts';
import { cutCapelet, cutSkirt, workToday } from './last-weeks.ts';
import { planTulle } from './lays.ts';
import { takeOldListIn } from './lists.ts';
import { describePetticoat } from './petticoat.ts';
import { timeTheSewing } from './rates.ts';
import { nameShades } from './shades.ts';
import { stockSupplies, useSupplies } from './supplies.ts';
import { offerSupplies, orderSupplies, receiveDyes } from './supply-buying.ts';
import { openWorkroom } from './workroom.ts';

/**
 * Fills an empty book with an invented workroom: some weeks of work up to `now`, done by the app's own forms. The
 * same `now` makes the same book. A book that holds a cloth already is left as it is.
 */
export function seedDemo(book: Book, now: Date): void {
  if (book.first(book.db.selectFrom('cloth').select('id').limit(1))) return;
  const hand = new Hand(book, now);
  openWorkroom(hand);
  describeCloths(hand);
  nameShades(hand);
  timeTheSewing(hand);
  sayDays(hand);
  receiveStock(hand);
  listDyes(hand);
  fitOutBench(hand);
  stockSupplies(hand);
  makeSash(hand);
  dyeAndOrder(hand);
  dyeSmoke(hand);
  lookAtPrices(hand);
  describeGreatSkirt(hand);
  askForFirstSample(hand);
  offerSupplies(hand);
  askForVoile(hand);
  cutFirstTiers(hand);
  cutCapelet(hand);
  takeCredit(hand);
  cutSkirt(hand);
  useSupplies(hand);
  const dyes = orderSupplies(hand);
  sewSome(hand, 'G3');
  sewGreatSkirt(hand);
  judgeFirstSample(hand);
  draftBolts(hand);
  receiveDyes(hand, dyes);
  workToday(hand);
  planTulle(hand);
  holdSpume(hand);
  printLabels(hand);
  takeOldListIn(hand);
  compareLots(hand);
  describePetticoat(hand);
}
