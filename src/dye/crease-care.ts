/**
 * What keeps sheer cloth of synthetic fibre free of creases in a hot bath.
 */
import type { Warning } from './dye-advice.ts';
import type { Content, FibreCode } from './fibre.ts';

const SYNTHETIC: readonly FibreCode[] = ['nylon', 'polyester', 'cationic-polyester', 'acetate', 'triacetate'];
/** Litres of bath to a kilogram of sheer cloth, in thousandths (common practice). */
const LEAST_RATIO_MILLI = 30_000;
/** From here folds set in synthetic cloth, in °C (common practice). */
const HOT_FROM_C = 70;

/** Constructions that show every crease. */
export const SHEER = ['organza', 'tulle', 'net', 'chiffon', 'georgette', 'voile'] as const;

/** True where the name of a construction says that the cloth is sheer. */
export function isSheer(construction: string): boolean {
  const said = construction.toLowerCase();
  return SHEER.some((each) => said.includes(each));
}

/** What to take care of with sheer synthetic cloth in a bath from 70 °C; empty for any other. */
export function creaseCare(
  content: Content,
  bath: { readonly liquorRatioMilli: number; readonly temperatureC: number },
): readonly Warning[] {
  const synthetic = content.some(({ fibre }) => SYNTHETIC.includes(fibre));
  if (!synthetic || bath.temperatureC < HOT_FROM_C) return [];
  const tight =
    bath.liquorRatioMilli < LEAST_RATIO_MILLI
      ? ' This bath is tighter: take 30 to 40 litres a kilogram.'
      : '';
  const text =
    `Sheer cloth creases for good when it is folded hot. Liquor 30:1 to 40:1, slow steady movement, cool by ` +
    `1 °C a minute at most down to 60 °C, and no bundling, wringing or folding while it is hot.${tight}`;
  return [
    {
      id: 'crease-care',
      text,
      source: 'common practice; lasting creases in hot polyester: study of crease recovery, scilit dac4f658',
    },
  ];
}
