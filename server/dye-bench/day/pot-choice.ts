import { z } from 'zod';
import { capital } from '../../../src/dye/fibre.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { chosenField } from '../../kit/choices.ts';
import { wholeField } from '../../kit/fields.ts';
import { batchPath } from '../../kit/paths.ts';
import { readUnits } from '../../kit/workroom.ts';
import { conflict, invalid } from '../../refusal.ts';
import { keepBathPlan } from '../batch/pots.ts';
import { readVessel, vesselChoices } from '../vessels/store.ts';
import { readOpenBaths } from './baths.ts';
import { sayBath, whyNotInPot } from './verbs.ts';

/** Another pot for a bath that has not begun. */
export function potChoiceForm(reader: Reader) {
  return z.strictObject({
    bath: wholeField({ min: 1, max: 100 }),
    vessel_id: chosenField(vesselChoices(reader), 'a pot', { label: 'Pot' }),
  });
}

/** @throws {Refusal} conflict where the bath has begun; invalid where the pot does not hold it */
export function choosePot(tx: Tx, code: string, form: z.output<ReturnType<typeof potChoiceForm>>): Answer {
  const number = form.bath.value;
  const bath = readOpenBaths(tx, readUnits(tx, tx.personId)).find(
    (each) => each.batch.code === code && each.number === number,
  );
  const location = `${batchPath(code)}/bench?bath=${number}`;
  if (!bath || bath.begun) {
    throw conflict(`Bath ${number} of ${code} has begun: it stays in its pot.`, {
      text: 'The bath as it is now',
      href: location,
    });
  }
  const vessel = readVessel(tx, form.vessel_id);
  const why = whyNotInPot(bath, vessel);
  if (why !== '') throw invalid('vessel_id', why);
  const beginsAt = bath.fromMs === null ? null : new Date(bath.fromMs).toISOString();
  keepBathPlan(tx, bath.batch.id, number, { vesselId: vessel.id, beginsAt });
  return { location, said: `${capital(sayBath(bath))} goes into ${vessel.name}.` };
}

/**
 * Why a bath cannot begin now: all pots of its vessel hold another bath. '' where one is free.
 */
export function whyPotIsTaken(reader: Reader, personId: number, code: string, number: number): string {
  const open = readOpenBaths(reader, readUnits(reader, personId));
  const bath = open.find((each) => each.batch.code === code && each.number === number);
  if (!bath || bath.begun) return '';
  const { vessel } = bath;
  const standing = open.filter((each) => each.begun && each.vesselId === vessel.id);
  if (standing.length < vessel.pots) return '';
  const held = standing.map((each) => `${sayBath(each)}, at ${each.stands}`);
  const pots = vessel.pots === 1 ? vessel.name : `Each of ${vessel.pots} pots ${vessel.name}`;
  return `${pots} holds ${held.join('; ')}. One pot holds one bath at a time: begin when it is taken out, or choose another pot.`;
}
