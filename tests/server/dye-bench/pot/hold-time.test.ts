import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { furnish, plan, start } from '../recipe/making.ts';

let house: TestHouse;
let now: Date;
let code: string;

const later = (minutes: number) => {
  now = new Date(now.getTime() + minutes * 60_000);
};
const steps = () => `/dye-bench/batches/${code}/logs/steps`;
const bath = async () => (await house.data(`/dye-bench/batches/${code}/bench`).expect(200)).body.bath;
const done = (step: string, fields: object = {}) => house.send(steps(), { bath: '1', step, ...fields });

/** One bath, brought to its hold by the clock of its own steps. */
beforeEach(async () => {
  now = new Date('2026-03-02T12:00:00.000Z');
  house = await openTestHouse(() => now);
  const { piece, recipeId, vesselId } = await furnish(house);
  code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
  await start(house, code);
  await done('begin').expect(200);
  for (let { step } = await bath(); !step.key.startsWith('hold'); { step } = await bath()) {
    later(Number.parseInt(step.minutes, 10));
    await done(step.key).expect(200);
  }
});
afterEach(() => house.shut());

describe('a hold that is tapped away before its time', () => {
  it('is asked about once, with what is left, and nothing is logged', async () => {
    const { step } = await bath();
    const minutes = Number.parseInt(step.minutes, 10);
    expect(minutes).toBeGreaterThanOrEqual(20);
    now = new Date(now.getTime() + 1000);
    const asked = await house.submit(steps(), { bath: '1', step: step.key }).expect(422);
    expect(asked.text).toContain(`${minutes} of its ${minutes} min are left`);
    expect(asked.text).toContain('<input type="hidden" name="skip_hold" value="yes">');
    expect(asked.text).toMatch(new RegExp(`<button[^>]*>Skip ${minutes} min, on to: `));
    expect((await bath()).step.key).toBe(step.key);
    const skipped = await done(step.key, { skip_hold: 'yes' }).expect(200);
    expect(skipped.body.said).toContain(`${step.title}: done, ${minutes} of its ${minutes} min skipped.`);
    expect((await bath()).step.key).not.toBe(step.key);
    // The record tells of it too.
    const record = await house.page(`/dye-bench/batches/${code}/record`).expect(200);
    expect(record.text).toMatch(/: 0 min, \d+ min by the plan\./);
  });

  it('is not asked about when a tenth of it or less is left', async () => {
    const { step } = await bath();
    const minutes = Number.parseInt(step.minutes, 10);
    later(minutes * 0.9 - 1);
    await done(step.key).expect(422);
    later(1);
    const { body } = await done(step.key).expect(200);
    expect(body.said).not.toContain('skipped');
  });
});
