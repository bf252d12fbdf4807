import type { Generated } from 'kysely';

/** The tables of what is done by when, as the step that makes them says. Days are texts such as 2026-11-25. */
export interface ByWhenTables {
  work_day: {
    id: number;
    /** Monday 1, Tuesday 2, Wednesday 4 to Sunday 64, added up */
    open_days: number;
    table_minutes: number | null;
    strips_hour: number | null;
    pot_baths: number | null;
    drying_days: number;
    swatch_days: number;
    receiving_days: number;
    spare_days: number;
    finishing_days: number;
  };
  person_hours: { person_id: number; sewing_minutes: number };
  closed_day: {
    id: Generated<number>;
    from_on: string;
    to_on: string;
    why: string;
    /** null: the whole workroom */
    person_id: number | null;
  };
  garment_work: { garment_id: number; sewing_minutes: number | null; fitting_on: string | null };
  work_tap: {
    id: Generated<number>;
    garment_id: number;
    work: TappedWork;
    tap: 'begun' | 'left' | 'done';
    at: string;
    person_id: number;
  };
}

/** What somebody taps that they begin or are done with. */
export type TappedWork = 'swatch' | 'dye' | 'cut' | 'sew' | 'fit';
