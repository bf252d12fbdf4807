import { auxiliaryOf, nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { bathFor, doseInBath, dyedMassMg } from '../../../src/dye/bath.ts';
import { chemicalsOf } from '../../../src/dye/bath-chemicals.ts';
import { sumOfLine } from '../../../src/dye/bath-sums.ts';
import { cautionsFor } from '../../../src/dye/cautions.ts';
import { clashesBetween, sayBetween } from '../../../src/dye/clash.ts';
import {
  AFTERTREATMENTS,
  type CorrectionWay,
  correctionsFor,
  TROUBLE_NAMES,
  TROUBLES,
} from '../../../src/dye/correction.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import { auxiliaryFrom, withAlso } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import type { AuxiliaryDose } from '../../../src/dye/recipe-figures.ts';
import { stripMethod, stripRecipe } from '../../../src/dye/strip.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { batchPath, piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { sayMinutes } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { orProblems, Refusal } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { showAmount, showGrams } from '../card/amounts-show.ts';
import { showUl } from '../card/volumes.ts';
import { readBy, unreadOf } from '../pot/read-cautions.ts';
import { withHeads } from '../pot/step.ts';
import { recipePath, sayMark } from '../recipe/store.ts';
import { type BatchToCorrect, readBatchToCorrect, toCorrect } from './batch.ts';
import { CORRECTION_ASKED, LABEL_DOSE, NEW_SHADE, stripFields } from './form.ts';

/** What may be done about a batch whose shade came out wrong. Asked with the trouble in the address, it says what. */
export function correctionPage(reader: Reader, code: string, asker: Asker, typed: Typed) {
  const batch = readOrNull(reader, code);
  return batch === null ? notDyedPage(code) : waysPage(reader, code, asker, batch, typed);
}

/** A batch that has not started has nothing to correct. */
export function notDyedPage(code: string) {
  const data = { code, href: batchPath(code) };
  return {
    view: 'dye-bench/correction/not-dyed',
    data,
    title: `Correct batch ${code}`,
    room: 'dye-bench',
  } satisfies Page;
}

export function waysPage(reader: Reader, code: string, asker: Asker, batch: BatchToCorrect, typed: Typed) {
  const trouble = TROUBLES.find((each) => each === typed.trouble);
  const after = AFTERTREATMENTS.find((each) => each === typed.after) ?? batch.fixedWith;
  const asked = trouble ? toCorrect(batch, { trouble, after }) : null;
  const found = asked ? correctionsFor(asked) : null;
  const { stored, pieces } = batch;
  // A level shade stays the shade that it is; a stripped one is another.
  const stays = trouble === 'unlevel';
  const becomes = (way: CorrectionWay) =>
    typed.becomes ?? (stays || way.id === 'syntan-off' ? String(stored.shade.id) : NEW_SHADE);
  const { value: labelDose, problems } = orProblems(() =>
    readForm(LABEL_DOSE, readBody({ dose: typed.dose ?? '' }).body),
  );
  const show = (way: CorrectionWay) => ({
    ...showWay(way, batch, drawFields(stripFields(reader), { ...typed, becomes: becomes(way) }).becomes),
    asks: way.asks ? showAsked(way.asks, code, batch, labelDose?.dose ?? null) : null,
  });
  const data = {
    requestKey: mintKey(),
    code,
    href: batchPath(code),
    action: `${batchPath(code)}/correction`,
    chip: shadeChip(stored.shade),
    dye: DYE_CLASS_NAMES[batch.dyeClass],
    stands: batch.stands,
    fields: { ...drawFields(CORRECTION_ASKED, { ...typed, after }), ...drawFields(LABEL_DOSE.shape, typed) },
    /** in words, for print; '' before it is asked */
    troubleSaid: trouble ? TROUBLE_NAMES[trouble] : '',
    /** as it was asked, to be sent with the strip that is planned */
    asked: { trouble: trouble ?? '', after },
    /** true for a class that is worked by its label: what corrects it stands there */
    byLabel: trouble !== undefined && asked === null,
    /** null before it is asked */
    found: found && {
      first: found.first.map(show),
      ways: found.ways.map(show),
      refused: found.refused,
      /** of all its baths together, told before any amount, open until this person has read them for this batch */
      cautions: shapeCautions([...found.first, ...found.ways], batch, asker),
    },
    pieces: pieces.map((piece) => ({ code: piece.code, href: piecePath(piece.code) })),
    links: {
      addition: `${batchPath(code)}/addition`,
      overdye: address('/dye-bench/batches/new', { shade: stored.shade.id, over: 'yes' }),
      copy: `${recipePath(stored.id)}/copy`,
      record: `${batchPath(code)}/record`,
    },
  };
  return {
    view: 'dye-bench/correction/correction',
    data,
    title: `Correct batch ${code}`,
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

function readOrNull(reader: Reader, code: string): BatchToCorrect | null {
  try {
    return readBatchToCorrect(reader, code);
  } catch (error) {
    if (error instanceof Refusal && error.kind === 'conflict') return null;
    throw error;
  }
}

/** What there is to beware of in any of the baths, each once, in the order of the list. */
function cautionsOf(ways: readonly CorrectionWay[], { content }: BatchToCorrect) {
  const recipes = ways.flatMap(({ strip }) => (strip && stripRecipe(stripMethod(strip), content)) || []);
  const [first] = recipes;
  if (!first) return [];
  return cautionsFor({
    dyeClass: 'strip',
    temperatureC: Math.max(...recipes.map(({ temperatureC }) => temperatureC)),
    auxiliaries: recipes.flatMap(({ auxiliaries }) => auxiliaries),
  });
}

function shapeCautions(ways: readonly CorrectionWay[], batch: BatchToCorrect, { personId }: Asker) {
  const all = withHeads(cautionsOf(ways, batch));
  return { due: all, all, warnings: [], unread: unreadOf(all, readBy(batch.log, personId)) };
}

function showWay<F>(way: CorrectionWay, batch: BatchToCorrect, becomes: F) {
  const { id, title, does, says, minds, mark } = way;
  const source =
    mark.basis === 'common practice' || mark.basis === 'from memory' ? mark.basis : sayMark(mark);
  return { id, title, does, says, minds, source, strip: way.strip, bath: showStrip(way, batch), becomes };
}

/** What a leveller or retarder makes in each bath that stands by the dose of its label; no baths before that is typed. */
function showAsked(
  kind: NonNullable<CorrectionWay['asks']>,
  code: string,
  { standing, dyedBp }: BatchToCorrect,
  dose: AuxiliaryDose | null,
) {
  const form = auxiliaryOf(kind).forms[0]?.code ?? '';
  const name = nameOfForm(kind, form);
  return {
    name,
    baths: standing.flatMap(({ number, bath }) => {
      if (!dose) return [];
      const line = doseInBath(auxiliaryFrom({ kind, form, name, ...dose }), bath, dyedBp);
      const amount = showAmount(line);
      return {
        label: wordFor(standing.length, 'The bath', `Bath ${number}`),
        amount,
        how: sumOfLine(line, { dyedMg: dyedMassMg(bath.massMg, dyedBp), volumeUl: bath.volumeUl }),
        /** where it is looked up against the bath and logged */
        href: address(`${batchPath(code)}/by-hand`, {
          bath: number,
          what: `${kind}/${form}`,
          amount: amount.replace('≈ ', ''),
        }),
      };
    }),
  };
}

/** The stripping bath for the cloth of the batch: amounts, steps, cautions, and what stands against it; null without one. */
function showStrip({ strip }: CorrectionWay, { content, also, water, massMg, lastHeld }: BatchToCorrect) {
  const given = strip && stripRecipe(stripMethod(strip), content);
  if (!given) return null;
  const recipe = withAlso(given, also);
  const { problems, warnings } = checkRecipe(recipe, content, water);
  const bathed = bathFor(massMg, recipe);
  const steps = orderOfWork(recipe, content);
  return {
    heat: `${recipe.temperatureC} °C for ${recipe.holdMinutes} min`,
    mass: showGrams(massMg),
    volume: bathed.ok ? showUl(bathed.bath.volumeUl) : '',
    amounts: bathed.ok
      ? bathed.bath.lines.map(({ name, asked, massMg: mg }) => ({ name, asked, amount: showGrams(mg) }))
      : [],
    steps: steps.map(({ title, says, minutes }) => ({ title, says, minutes: sayMinutes(minutes) })),
    /** why it may not be done on this cloth; none where it may */
    problems: problems.map(({ message }) => message),
    warnings: warnings.filter(({ id }) => id !== 'label-only').map(({ text }) => text),
    /** what must be out of the cloth before it; '' where nothing must */
    before: sayBetween(clashesBetween(lastHeld, chemicalsOf(recipe))),
  };
}
