import type { ContentProblem } from '../dye/fibre.ts';
import { MINUS } from '../quantity/figure-show.ts';
import type { Lab } from './lab.ts';
import { isRealColour, mostChroma } from './real-colours.ts';

/** No figure beyond this is looked at further: it is a slip of the pen. */
const FURTHEST = 200;

/** Everything wrong with a Lab value, by the fields `l`, `a` and `b`: no cloth has a colour that no surface can have. */
export function checkLab(lab: Lab): readonly ContentProblem[] {
  const problems: ContentProblem[] = [];
  if (!(lab.l >= 0 && lab.l <= 100)) problems.push({ field: 'l', message: 'Enter 0 to 100 for L*.' });
  for (const axis of ['a', 'b'] as const) {
    if (!(Math.abs(lab[axis]) <= FURTHEST)) {
      problems.push({
        field: axis,
        message: `Enter ${MINUS}${FURTHEST} to ${FURTHEST} for ${axis}*.`,
      });
    }
  }
  if (problems.length > 0 || isRealColour(lab)) return problems;
  const field = Math.abs(lab.a) > Math.abs(lab.b) ? 'a' : 'b';
  return [{ field, message: sayUnreal(lab) }];
}

function sayUnreal(lab: Lab): string {
  const chroma = Math.round(Math.hypot(lab.a, lab.b));
  return `No cloth has this colour: at L* ${lab.l} a* and b* of this hue come to a chroma of ${mostChroma(lab)} at most, and these to ${chroma}. Check the figures and their order: L*, a*, b*.`;
}
