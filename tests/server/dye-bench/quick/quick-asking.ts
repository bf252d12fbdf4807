import { expect } from 'vitest';
import type { TestHouse } from '../../support.ts';

export type Fields = Record<string, string>;
export type Line = {
  name: string;
  amounts: { amount: string; volume: string }[];
  inAll: string;
  how: string;
};

/** Cotton and a reactive dye at 60 °C, weighed as it lies in the room; `changed` adds to it or takes its place. */
export const cotton = (changed: Fields): Fields => ({
  weighed: 'conditioned',
  'fibres.0.fibre': 'cotton',
  dye_class: 'reactive',
  temperature: '60',
  hold: '60',
  ...changed,
});

export const addressOf = (fields: Fields) => `/dye-bench/quick?${new URLSearchParams(fields)}`;

export async function workOut(house: TestHouse, fields: Fields) {
  const answer = await house.data(addressOf(fields));
  expect(answer.body.error).toBeUndefined();
  expect(answer.status).toBe(200);
  return answer.body.result as {
    lines: Line[];
    bath: { shown: string; how: string };
    mass: { shown: string; how: string };
    groups: { label: string; mass: string; volume: string; strips: number }[];
    split: { count: number; options: { baths: string; what: string; taken: boolean }[] } | null;
    heat: { rows: { label: string; value: string; how: string }[]; verdict: string };
    figures: { label: string; value: string; source: string }[];
    cautions: { id: string }[];
    warnings: { id: string; text: string }[];
  };
}

/** The displayed volume, or the mass where nothing is measured, by the name of the line. */
export const shown = (lines: Line[]) =>
  Object.fromEntries(lines.map(({ name, amounts }) => [name, amounts[0]?.volume || amounts[0]?.amount]));

export async function refusedAt(house: TestHouse, fields: Fields) {
  const answer = await house.data(addressOf(fields));
  expect(answer.status).toBe(422);
  return Object.fromEntries(
    (answer.body.error.problems as { field: string; message: string }[]).map((each) => [
      each.field,
      each.message,
    ]),
  );
}
