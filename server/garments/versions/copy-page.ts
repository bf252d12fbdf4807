import { copyPath, garmentPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { countOf } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import type { Garment } from '../garment/records.ts';
import { tiersIn } from '../garment/worked.ts';

export interface CopyPageData {
  readonly requestKey: string;
  readonly action: string;
  readonly garment: { readonly code: string; readonly name: string; readonly href: string };
  readonly typed: { readonly name: string };
  /** what the copy will have, in a sentence */
  readonly what: string;
}

const MOST_NAME = 120;

/** The form that duplicates a garment. */
export function copyPage(garment: Garment, typed: Typed | null): Page {
  const tiers = countOf(tiersIn(garment).length, 'tier', 'tiers');
  const data: CopyPageData = {
    requestKey: mintKey(),
    action: copyPath(garment.code),
    garment: { code: garment.code, name: garment.name, href: garmentPath(garment.code) },
    typed: { name: typed?.name ?? `${garment.name}, copy`.slice(0, MOST_NAME) },
    what: `The copy has the form, ${tiers} and their colour blocks, and a code of its own. It is due on no day, and nothing is held or cut for it.`,
  };
  return { view: 'garments/versions/copy', data, title: `Duplicate ${garment.name}`, room: 'garments' };
}
