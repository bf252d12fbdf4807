import { sql } from 'kysely';

/** For queries over `entry`: the entry was not undone. */
export const ENTRY_STANDS = sql<boolean>`NOT EXISTS (
  SELECT 1 FROM entry AS undone WHERE undone.reverses_id = entry.id)`;
