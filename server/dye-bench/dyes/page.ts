import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { divideRounded, exactly, showDecimal } from '../../../src/quantity/figure-show.ts';
import { showMass } from '../../../src/quantity/mass.ts';
import { minorDigits, showMoney } from '../../../src/quantity/money.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Page } from '../../web/page-frame.ts';
import { drawDyeForm, typedDye } from './form.ts';
import { type Dye, dyePath, readDye, readDyes } from './store.ts';

export function dyesPage(reader: Reader, typed: Typed = {}) {
  const { currency } = readWorkroom(reader);
  const shown = readDyes(reader).map((dye) => showDye(dye, currency));
  const data = {
    dyes: shown.filter(({ gone }) => gone === ''),
    putAway: shown.filter(({ gone }) => gone !== ''),
    form: drawDyeForm(currency, '/dye-bench/dyes', 'Add', typed),
  };
  return { view: 'dye-bench/dyes/dyes', data, title: 'Dyes', room: 'dye-bench' } satisfies Page;
}

/** One dye, to be changed. */
export function dyePage(reader: Reader, id: number, typed?: Typed) {
  const dye = readDye(reader, id);
  const data = drawDyeForm(readWorkroom(reader).currency, dyePath(id), 'Keep', typed ?? typedDye(dye));
  return { view: 'dye-bench/dyes/dye', data, title: dye.name, room: 'dye-bench' } satisfies Page;
}

function showDye(dye: Dye, currency: string) {
  const { priceMinor, priceMg } = dye;
  const priced = priceMinor !== null && priceMg !== null;
  const method = dye.method === '' ? '' : `, ${dye.method}`;
  return {
    id: dye.id,
    name: dye.name,
    href: dyePath(dye.id),
    dyeClass: `${capital(DYE_CLASS_NAMES[dye.dyeClass])}${method}`,
    strength: dye.strengthBp === null ? '' : showPercent(dye.strengthBp),
    lot: dye.lot,
    perGram: priced ? perGram(priceMinor, priceMg, currency) : '',
    priceFrom: priced ? `${showMoney(priceMinor, currency)} for ${showMass(priceMg, 'metric', 'near')}` : '',
    labelNotes: dye.labelNotes,
    gone: dye.gone,
  };
}

/** What a gram costs, to a thousandth of the smallest coin: "0.125 EUR". */
function perGram(priceMinor: number, priceMg: number, currency: string): string {
  const thousandths = divideRounded(exactly(priceMinor) * 1_000_000n, exactly(priceMg), 'near');
  return `${showDecimal(thousandths, 3 + minorDigits(currency))} ${currency}`;
}
