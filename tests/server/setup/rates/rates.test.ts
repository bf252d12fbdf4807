import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { typedIn } from '../../shelf/furnished.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const WHOLE = { waste: '15', put_up: '5000', metric_step: '10', imperial_step: '1/8' };
const JOB = {
  rate: '1.5',
  passes: '2',
  stitch: '301',
  measured: '',
  stitches: '',
  thickness: '',
  stitch_width: '',
};

const job = async (name: string) =>
  (await house.data('/setup/rates')).body.jobs.find((row: { job: string }) => row.job === name);

describe('the rates of the workroom', () => {
  it('are none at first, and say so', async () => {
    const { body } = await house.data('/setup/rates');
    expect(typedIn(body.fields)).toEqual({
      waste: '',
      put_up: '',
      metric_step: '10 cm',
      imperial_step: '1/8 yd',
    });
    expect(body.jobs).toHaveLength(9);
    expect(body.jobs.every((row: { rate: string; stitch: string }) => row.rate + row.stitch === '')).toBe(
      true,
    );
    const page = await house.page('/setup/rates');
    expect(page.text).toContain('not said');
  });

  it('are kept as they were typed', async () => {
    const saved = await house.send('/setup/rates', WHOLE);
    expect(saved.body.said).toMatch(/are changed/);
    expect(typedIn((await house.data('/setup/rates')).body.fields)).toMatchObject({
      waste: '15',
      put_up: '5000',
      imperial_step: '1/8',
    });
    await house.send('/setup/rates/gathering', JOB);
    expect(await job('gathering')).toMatchObject({
      rate: '1.5 m a minute',
      passes: 2,
      stitch: '301',
      thread: '1.25 + 1.25, from a table',
    });
    expect(typedIn((await house.data('/setup/rates/gathering')).body.fields)).toEqual(JOB);
  });

  it('take the usual passes where they are left blank', async () => {
    // A French seam is sewn twice: Conover, Complete Course in Dressmaking, 1922, vol. 1.
    await house.send('/setup/rates/french', { ...JOB, passes: '' }).expect(200);
    expect(await job('french')).toMatchObject({ passes: 2 });
    await house.send('/setup/rates/plain', { ...JOB, passes: '' }).expect(200);
    expect(await job('plain')).toMatchObject({ passes: 1 });
  });

  it('can be changed and taken away again', async () => {
    await house.send('/setup/rates/gathering', JOB);
    await house.send('/setup/rates/gathering', { ...JOB, rate: '', stitch: '' });
    expect(await job('gathering')).toMatchObject({ rate: '', stitch: '', thread: 'not said' });
  });

  it('take a formula before the table, and a measured sample before both', async () => {
    // 2 + 2TS with T = 0.01 in and S = 10 to the inch: 2.2 (textileblog.com).
    const formula = { ...JOB, stitches: '10 per in', thickness: '0.01 in' };
    await house.send('/setup/rates/plain', formula);
    expect((await job('plain')).thread).toBe('1.1 + 1.1, by formula');
    await house.send('/setup/rates/plain', { ...formula, measured: '1.2 + 1.3' });
    expect((await job('plain')).thread).toBe('1.2 + 1.3, measured here');
  });

  // 3 + 2TS and 2 + 2TS (textileblog.com; textilecalculation.blogspot 2015).
  it.each([
    ['101', '9 per in', '0.005 in', '3.09, by formula'],
    ['301', '10 per in', '0.01 in', '1.1 + 1.1, by formula'],
    ['301', '10 per in', '0.025 in', '1.25 + 1.25, by formula'],
  ])('show the published ratio of %s at %s and %s', async (stitch, stitches, thickness, shown) => {
    await house.send('/setup/rates/plain', { ...JOB, stitch, stitches, thickness });
    expect((await house.page('/setup/rates')).text).toContain(shown);
  });

  it('meet 504 by formula, and want a sample without it', async () => {
    await house.send('/setup/rates/rolled', { ...JOB, stitch: '504' });
    expect((await job('rolled')).thread).toBe('measure a sample');
    // 3 + 4WS + 4TS with W = 0.16, S = 12 and T = 0.01 in: 11.16 (textileblog.com, worked out by hand).
    const width = { stitches: '12 per in', thickness: '0.01 in', stitch_width: '0.16 in' };
    await house.send('/setup/rates/rolled', { ...JOB, stitch: '504', ...width });
    expect((await job('rolled')).thread).toBe('11.16, by formula');
  });

  it('are written again exactly for a reader of the other system', async () => {
    const fine = { stitches: '4', thickness: '0.25', stitch_width: '5' };
    await house.send('/setup/rates/rolled', { ...JOB, stitch: '504', ...fine });
    house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ length_system: 'imperial' })));
    const { body } = await house.data('/setup/rates/rolled');
    const again = await house.send('/setup/rates/rolled', typedIn(body.fields));
    expect(again.status).toBe(200);
    house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ length_system: 'metric' })));
    expect((await job('rolled')).rate).toBe('1.5 m a minute');
    const thread = (await job('rolled')).thread;
    // 3 + 4 × 0.1968… × 10.16 + 4 × 0.00984… × 10.16 = 3 + 8 + 0.4
    expect(thread).toBe('11.4, by formula');
  });

  it('refuse what cannot be, at the field, with what was typed', async () => {
    const bad = await house.submit('/setup/rates', {
      ...WHOLE,
      waste: '101',
      put_up: '1 m',
      metric_step: '0',
    });
    expect(bad.status).toBe(422);
    for (const text of ['Write 100 % or less', 'put-up is too small', 'step is too small', 'value="101"']) {
      expect(bad.text).toContain(text);
    }
    const rate = await house.submit('/setup/rates/plain', { ...JOB, rate: 'quick' });
    expect(rate.status).toBe(422);
    expect(rate.text).toContain('value="quick"');
    const two = await house.send('/setup/rates/plain', { ...JOB, stitch: '101', measured: '1+2' });
    expect(two.status).toBe(422);
    expect(two.body.error.problems).toEqual([
      { field: 'measured', message: '101 has one thread: write one figure.' },
    ]);
    expect((await house.page('/setup/rates/knitting')).status).toBe(404);
  });
});

describe('what work at the cutting table takes', () => {
  const TABLE = { pull: '30', fold: '10', pin: '60', stroke: '12', knife: '5', allowance: '2' };
  const page = async () => (await house.data('/setup/rates/table').expect(200)).body;

  it('is our rule until the workroom has timed its own', async () => {
    expect(await page()).toMatchObject({ isUsual: true });
    expect(typedIn((await page()).fields)).toMatchObject({
      pull: '40',
      fold: '20',
      pin: '45',
      stroke: '15',
      knife: '6',
      allowance: '0.3 cm',
    });
    expect((await house.page('/setup/rates/table')).text).toContain('Our rule');
    await house.submit('/setup/rates/table', TABLE).expect(303);
    expect(await page()).toMatchObject({ isUsual: false });
    expect(typedIn((await page()).fields)).toEqual(TABLE);
  });

  it('refuses what nobody takes, beside the field, with all that was typed', async () => {
    const wrong = { ...TABLE, stroke: '4000', knife: '0', allowance: '5 cm' };
    const { body } = await house.send('/setup/rates/table', wrong).expect(422);
    expect(body.error.problems.map(({ field }: { field: string }) => field)).toEqual([
      'stroke',
      'knife',
      'allowance',
    ]);
    expect(typedIn(body.page.fields)).toEqual(wrong);
    expect(await page()).toMatchObject({ isUsual: true });
  });
});
