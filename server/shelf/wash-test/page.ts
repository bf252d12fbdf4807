import { writeSize } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { clothPath, washTestsPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readCloth } from '../cloth/store.ts';
import { readWashTests, washTestFields } from './store.ts';

/** The wash tests of a cloth and the form of a further one. @throws {Refusal} unknown */
export function washTestsPage(reader: Reader, clothId: number, { units }: Asker, typed: Typed | null) {
  const cloth = readCloth(reader, clothId);
  const tests = readWashTests(reader, clothId, units);
  // A cloth that follows a test already is measured from the width before it.
  const fromTicks = tests.find(({ isSet }) => isSet)?.fromTicks ?? cloth.usableWidthTicks;
  const data = {
    cloth: { name: cloth.name, href: clothPath(clothId) },
    requestKey: mintKey(),
    action: washTestsPath(clothId),
    fields: drawFields(washTestFields(units), typed ?? { from: writeSize(fromTicks, units) }),
    tests,
  };
  return {
    view: 'shelf/wash-test/tests',
    data,
    title: `Wash tests of ${cloth.name}`,
    room: 'shelf',
  } satisfies Page;
}
