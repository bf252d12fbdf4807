import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type DemoHouse, openDemoHouse } from '../../../seed-demo/demo.ts';

const validator = new HtmlValidate({
  extends: ['html-validate:recommended'],
  rules: {
    'no-trailing-whitespace': 'off',
    'void-style': ['error', { style: 'omit' }],
    'doctype-style': 'off',
  },
});

// In the demo D2 was dyed with all that belongs to a record, D3 is planned, and D4 is in two pots.
const PATHS = ['D2', 'D3', 'D4'].flatMap((code) =>
  ['', '/bench', '/record', '/addition', '/tag', '/repeat', '/correction?trouble=too-dark']
    .filter((rest) => code !== 'D3' || !['/repeat', '/correction?trouble=too-dark'].includes(rest))
    .map((rest) => `/dye-bench/batches/${code}${rest}`),
);

describe('the pages of a batch', () => {
  let demo: DemoHouse;
  beforeAll(async () => {
    demo = await openDemoHouse();
  });
  afterAll(() => demo.shut());

  it.each(PATHS)('%s has no fault in its markup', async (path) => {
    const { text } = await demo.get(path, 'text/html').expect(200);
    const report = await validator.validateString(text);
    const faults = report.results.flatMap(({ messages }) =>
      messages.map(({ line, message }) => `${line}: ${message}`),
    );
    expect(faults).toEqual([]);
  });

  it('tell in the record of D2 what went otherwise, and that its shade was accepted', async () => {
    const { body } = await demo.get('/dye-bench/batches/D2/record', 'application/json').expect(200);
    expect(body.results).toMatchObject([{ result: 'accepted' }]);
    expect(body.swatches).toHaveLength(2);
    expect(body.baths[0].deviations).toEqual([
      'Kelp green A (invented): 0.57 g weighed, 0.52 g wanted.',
      expect.stringContaining('94 °C, 90 °C by the plan.'),
      'Hold 98 °C: 58 min, 45 min by the plan.',
    ]);
  });
});
