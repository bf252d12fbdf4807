import type { Reader } from '../database/book.ts';
import { readWorkroomPlan } from './plan.ts';
import { type NextThing, nextThing } from './words.ts';

/** The next thing for one open garment with a due day, with all others in hand; null where it has none. */
export function readNextThing(reader: Reader, garmentId: number, today: string): NextThing | null {
  const days = readWorkroomPlan(reader, today).garments.find(({ garment: { id } }) => id === garmentId);
  return days?.work ? nextThing(days, today) : null;
}
