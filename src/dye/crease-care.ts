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

/** The least liquor ratio of sheer cloth in a bath of this heat, in thousandths; 0 where its folds do not set. */
export function leastSheerRatioMilli(content: Content, temperatureC: number): number {
  const synthetic = content.some(({ fibre }) => SYNTHETIC.includes(fibre));
  return synthetic && temperatureC >= HOT_FROM_C ? LEAST_RATIO_MILLI : 0;
}

/** What to take care of with sheer synthetic cloth in a bath from 70 °C; empty for any other. */
export function creaseCare(
  content: Content,
  bath: { readonly liquorRatioMilli: number; readonly temperatureC: number },
): readonly Warning[] {
  const leastMilli = leastSheerRatioMilli(content, bath.temperatureC);
  if (leastMilli === 0) return [];
  const least = `1:${leastMilli / 1000}`;
  const tight =
    bath.liquorRatioMilli < leastMilli ? ` This bath is tighter: make it ${least} or longer.` : '';
  const text =
    `Sheer cloth creases for good when it is folded hot. Liquor ${least} or longer, slow steady movement, cool by ` +
    `1 °C a minute at most down to 60 °C, and no bundling, wringing or folding while it is hot.${tight}`;
  return [
    {
      id: 'crease-care',
      text,
      source: 'common practice; lasting creases in hot polyester: study of crease recovery, scilit dac4f658',
    },
  ];
}
