import { DYE_CLASS_NAMES, DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { CONDITIONS } from '../../../src/dye/dye-conditions.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { divideRounded, exactly, showDecimal } from '../../../src/quantity/figure-show.ts';
import { showMass } from '../../../src/quantity/mass.ts';
import { minorDigits, showMoney } from '../../../src/quantity/money.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import type { Choice } from '../../kit/choices.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Dye, readDye, readDyes } from './store.ts';

const FIELDS = [
  'name',
  'dye_class',
  'method',
  'strength',
  'lot',
  'price',
  'price_for',
  'label_notes',
] as const;
type Field = (typeof FIELDS)[number];

export interface DyesPageData {
  readonly dyes: readonly ShownDye[];
  readonly putAway: readonly ShownDye[];
  readonly form: DyeFormData;
}

export interface DyeFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly submit: string;
  readonly typed: Readonly<Record<Field, string>>;
  readonly classes: readonly Choice[];
  readonly methods: readonly string[];
  readonly currency: string;
}

export interface ShownDye {
  readonly id: number;
  readonly name: string;
  readonly href: string;
  readonly dyeClass: string;
  readonly strength: string;
  readonly lot: string;
  /** "0.125 EUR" a gram, and what it follows from; '' where no price is known */
  readonly perGram: string;
  readonly priceFrom: string;
  readonly labelNotes: string;
  readonly gone: string;
}

export function dyesPage(reader: Reader, typed: Typed = {}): Page {
  const { currency } = readWorkroom(reader);
  const all = readDyes(reader);
  const shown = all.map((dye) => showDye(dye, currency));
  const data: DyesPageData = {
    dyes: shown.filter(({ gone }) => gone === ''),
    putAway: shown.filter(({ gone }) => gone !== ''),
    form: formData({ action: '/dye-bench/dyes', submit: 'Add', typed, currency }),
  };
  return { view: 'dye-bench/dyes/dyes', data, title: 'Dyes', room: 'dye-bench' };
}

/** One dye, to be changed. */
export function dyePage(reader: Reader, id: number, typed?: Typed): Page {
  const dye = readDye(reader, id);
  const kept: Typed = {
    name: dye.name,
    dye_class: dye.dyeClass,
    method: dye.method,
    lot: dye.lot,
    label_notes: dye.labelNotes,
    ...dye.typed,
  };
  const { currency } = readWorkroom(reader);
  const data = formData({ action: dyePath(id), submit: 'Keep', typed: typed ?? kept, currency });
  return { view: 'dye-bench/dyes/dye', data, title: dye.name, room: 'dye-bench' };
}

function formData(given: {
  readonly action: string;
  readonly submit: string;
  readonly typed: Typed;
  readonly currency: string;
}): DyeFormData {
  const { typed, ...rest } = given;
  const reactive = CONDITIONS.filter(({ dyeClass }) => dyeClass === 'reactive');
  return {
    requestKey: mintKey(),
    ...rest,
    typed: Object.fromEntries(FIELDS.map((name) => [name, typed[name] ?? ''])) as Record<Field, string>,
    classes: DYE_CLASSES.map((each) => ({ value: each, label: capital(DYE_CLASS_NAMES[each]) })),
    methods: [...new Set(reactive.map(({ method }) => method))],
  };
}

export const dyePath = (id: number) => `/dye-bench/dyes/${id}`;

function showDye(dye: Dye, currency: string): ShownDye {
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

/** What the label of a dye on the list says, in a few words; '' for a dye that is not on it. */
export function sayDye(dye: Dye | undefined): string {
  if (!dye) return '';
  const said = [
    dye.lot === '' ? '' : `lot ${dye.lot}`,
    dye.strengthBp === null ? '' : `${showPercent(dye.strengthBp)} of the maker's standard`,
    dye.labelNotes,
  ];
  return said.filter((each) => each !== '').join('; ');
}
