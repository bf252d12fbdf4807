import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { asMadePath, garmentPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { readGarment } from '../garment/records.ts';
import { tiersIn } from '../garment/worked.ts';
import { shapeMade } from './measures.ts';
import { measureFields } from './verbs.ts';

/** What was measured on the stand beside the plan, and the form of a further measure. @throws {Refusal} unknown */
export function asMadePage(reader: Reader, code: string, units: Units, typed: Typed | null) {
  const garment = readGarment(reader, code);
  const isOpen = garment.finishedAt === null;
  const made = shapeMade(reader, garment, units);
  const data = {
    garment: { code: garment.code, name: garment.name, href: garmentPath(code) },
    requestKey: mintKey(),
    action: asMadePath(code),
    fields: drawFields(measureFields(garment, units), typed ?? {}),
    changes: isOpen && tiersIn(garment).length > 0,
    made,
    /** forms that move what is still to cut, by the tier measured */
    follow: (made?.rows ?? []).flatMap(({ tierId, follow, name }) =>
      isOpen && follow !== ''
        ? [{ action: `${asMadePath(code)}/${tierId}/followed`, key: mintKey(), name, text: follow }]
        : [],
    ),
  };
  return {
    view: 'garments/as-made/page',
    data,
    title: `${garment.name} as made`,
    room: 'garments',
  } satisfies Page;
}
