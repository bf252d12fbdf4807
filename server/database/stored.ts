import type { z } from 'zod';

/** What a column keeps as JSON, held against the schema by which it is written. */
export function readStored<S extends z.ZodType>(schema: S, json: string): z.output<S> {
  return schema.parse(JSON.parse(json));
}
