import { sayLabTenths } from '../../../src/colour/lab.ts';
import { amountsOf } from '../../../src/colour/prediction/known-swatches.ts';
import { shadeAgain } from '../../../src/colour/prediction/shade-again.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { FIRST_RECIPE, knownSwatchesPath } from '../../kit/paths.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import { newPairPhotosPath } from '../../shelf/photo/pages.ts';
import { readBody } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { recipePath } from '../recipe/store.ts';
import { againForm, SEEN_WITHIN } from './again-form.ts';
import { fluorescentDyes, type Grounding, groundingOf } from './basis.ts';
import type { PredictionDesk } from './desk.ts';
import { dyesAt, unknownIn } from './expected-page.ts';
import { bathKind, bathValue } from './known.ts';
import { doubtsAbout, sayDelta, sayNotYet, sayPercent, sayUnknownDyes } from './said.ts';
import { OVERDYEING, readScope } from './scope.ts';
import { readDyedLot, readSighting, readTrial, type Sighting, type Trial } from './trial.ts';

export type AgainPageData = Awaited<ReturnType<typeof shadeAgainPage>>['data'];
type Stop = {
  readonly text: string;
  readonly more: readonly string[];
  readonly link: { readonly href: string; readonly text: string } | null;
};

/** The next recipe after a trial that was seen beside what is wanted. */
export async function shadeAgainPage(reader: Reader, desk: PredictionDesk, typed: Typed) {
  const trial = readTyped(reader, typed);
  const scope = trial ? readScope(reader, scopeOf(trial)) : null;
  const grounded = scope ? groundingOf(reader, scope) : null;
  const grounding = grounded?.ok ? grounded.grounding : null;
  const dyes = trial ? dyesAt(trial.stored, trial.depthOwfMilli) : [];
  const others = grounding
    ? grounding.usable
        .flatMap((at) => grounding.basis.from.dyes[at] ?? [])
        .filter((name) => !dyes.some((dye) => dye.name === name))
    : [];
  const form = againForm(reader, others);
  const { value: asked, problems } = orProblems(() => readForm(form, readBody({ ...typed }).body));
  const fields = drawFields(form.in.shape, { level: 'level', ...typed });
  const seen = trial && grounding && asked ? sightingOf(reader, trial, grounding, asked) : null;
  const stop =
    trial && scope && grounded
      ? (stopOf({
          isUnlevel: asked?.level === 'unlevel',
          unknown: grounding ? unknownIn(grounding, dyes) : [],
          fluorescent: fluorescentDyes(reader),
          cloth: scope.cloth,
          seen,
          isAsked: asked !== null,
          newPhotos: newPairPhotosPath(trial.of, { kind: 'shade', id: trial.stored.shade.id }),
        }) ?? null)
      : null;
  const data = {
    action: `${FIRST_RECIPE}/again`,
    fields: [fields.swatch_id, fields.lot_id, fields.level, fields.more_dye],
    wanted: [fields.wanted_l, fields.wanted_a, fields.wanted_b],
    trialFields: [fields.trial_l, fields.trial_a, fields.trial_b],
    seenField: fields.seen,
    isTyped: (typed.seen ?? '') !== '' || problems.length > 0,
    trial: trial
      ? {
          name: trial.name,
          href: trial.href,
          shade: trial.stored.shade.name,
          dyes: dyes.map(({ name, percent }) => `${sayPercent(percent)} ${name}`).join(', '),
        }
      : null,
    notYet: grounded && !grounded.ok && scope ? sayNotYet(grounded.notYet, scope) : null,
    stop: grounding ? stop : null,
    doubts: grounding && scope ? doubtsAbout(grounding, scope) : [],
    next:
      trial && grounding && seen && !stop && asked
        ? await showNext(desk, {
            trial,
            grounding,
            seen,
            dyes,
            more: asked.more_dye,
          })
        : null,
  };
  return {
    view: 'dye-bench/first-recipe/again',
    data,
    title: 'Shade again',
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

function readTyped(reader: Reader, typed: Typed): Trial | null {
  const [swatchId, lotId] = [queryNumber(typed, 'swatch_id'), queryNumber(typed, 'lot_id')];
  if (swatchId !== null) return readTrial(reader, swatchId);
  return lotId === null ? null : readDyedLot(reader, lotId);
}

function scopeOf({ clothId, groundId, isOnGround, stored: { recipe } }: Trial): Typed {
  return {
    cloth_id: String(clothId),
    ground_id: isOnGround ? String(groundId) : OVERDYEING,
    bath: bathValue(bathKind(recipe.dyeClass, recipe.method)),
  };
}

/** What was typed goes before what the book has. */
function sightingOf(
  reader: Reader,
  trial: Trial,
  { own: { observer } }: Grounding,
  {
    seen,
    wanted,
    trial: typed,
  }: {
    readonly seen: '' | 'photo' | 'instrument';
    readonly wanted: Sighting['wanted'] | null;
    readonly trial: Sighting['trial'] | null;
  },
): Sighting | null {
  if (seen === '' || !wanted || !typed) return readSighting(reader, trial, observer);
  const how =
    seen === 'photo'
      ? 'As typed, from one photo of both.'
      : `As typed, from one instrument, D65, ${observer}°.`;
  return { wanted, trial: typed, uncertainty: SEEN_WITHIN[seen], how };
}

/** Why no next recipe is worked out; null where one is. */
function stopOf({
  isUnlevel,
  unknown,
  fluorescent,
  cloth,
  seen,
  isAsked,
  newPhotos,
}: {
  readonly isUnlevel: boolean;
  readonly unknown: readonly string[];
  readonly fluorescent: ReadonlySet<string>;
  readonly cloth: { readonly id: number; readonly name: string };
  readonly seen: Sighting | null;
  readonly isAsked: boolean;
  readonly newPhotos: string;
}): Stop | null {
  if (isUnlevel)
    return {
      text: 'An unlevel trial has no one colour to correct from. Dye it again, slower and with more movement.',
      more: [],
      link: null,
    };
  if (unknown.length > 0)
    return {
      text: sayUnknownDyes(unknown, fluorescent, cloth.name),
      more: [],
      link: { href: knownSwatchesPath(cloth.id), text: 'Record swatches' },
    };
  if (isAsked && !seen)
    return {
      text: 'It was not read yet. Photograph it beside the shade wanted, in one photo.',
      more: [],
      link: { href: newPhotos, text: 'Judge by photo' },
    };
  return null;
}

async function showNext(
  desk: PredictionDesk,
  {
    trial,
    grounding,
    seen,
    dyes,
    more,
  }: {
    readonly trial: Trial;
    readonly grounding: Grounding;
    readonly seen: Sighting;
    readonly dyes: readonly { readonly name: string; readonly percent: number }[];
    readonly more: string;
  },
) {
  const { basis } = grounding;
  const names = basis.from.dyes;
  const predictor = await desk.learn(basis);
  const amounts = amountsOf(dyes, names);
  const places = names.flatMap((name, at) =>
    dyes.some((dye) => dye.name === name) || name === more ? [at] : [],
  );
  const next = shadeAgain(predictor, amounts, seen, places, basis.from.deepest);
  const seenSaid = {
    how: seen.how,
    wanted: sayLabTenths(seen.wanted),
    trial: sayLabTenths(seen.trial),
    uncertainty: sayDelta(seen.uncertainty),
  };
  if (!next) return { ...seenSaid, correction: null };
  const rows = places.flatMap((at) => {
    const name = names[at] ?? '';
    return [
      {
        name,
        was: sayPercent(amounts[at] ?? 0),
        now: sayPercent(next.amounts[at] ?? 0),
        percent: next.amounts[at] ?? 0,
      },
    ];
  });
  const kept = [...dyes.map(({ name }) => name), ...(more === '' ? [] : [more])];
  const typedRows = kept.flatMap((name, row) => [
    [`dyes.${row}.name`, name],
    [`dyes.${row}.owf`, String(rows.find((each) => each.name === name)?.percent ?? 0)],
  ]);
  const { stored } = trial;
  const form = stored.followedById === null ? 'versions/new' : 'copy';
  return {
    ...seenSaid,
    correction: {
      seen: sayDelta(next.seen),
      share: `${Math.round(next.share * 100)} %`,
      rest: next.rest >= 1 ? sayDelta(next.rest) : '',
      rows: rows.map(({ name, was, now }) => ({ name, was, now })),
      write: address(`${recipePath(stored.id)}/${form}`, Object.fromEntries(typedRows)),
    },
  };
}
