import type { Observer } from '../../../src/colour/colour-reading.ts';
import type { PredictionBasis } from '../../../src/colour/prediction/basis.ts';
import {
  type KnownSwatch,
  type OwnSet,
  ontoSet,
  ownSet,
  type SwatchLeftOut,
  type SwatchSet,
  siftSwatches,
} from '../../../src/colour/prediction/known-swatches.ts';
import type { Reader } from '../../database/book.ts';
import { readDyes } from '../dyes/store.ts';
import { type BathKind, bathValue, type ReadSwatch, readKnown } from './known.ts';
import type { Scope } from './scope.ts';

/** Why nothing is predicted, and what to do about it. */
export interface NotYet {
  readonly why: 'overdyeing' | 'no ground' | 'no dye' | 'no undyed swatch' | 'few depths' | 'another cloth';
  /** dyes that are to be dyed, each with the depths it has */
  readonly dyes: readonly { readonly dye: string; readonly depths: number }[];
  /** true where another cloth knows the dyes, so that one swatch of each is enough */
  readonly isCarried: boolean;
}

/** What shades are predicted from. */
export interface Grounding {
  readonly basis: PredictionBasis;
  /** the swatches of this cloth, whatever the curves of the dyes came from */
  readonly own: SwatchSet;
  /** the dyes that may be used, by their places */
  readonly usable: readonly number[];
  /** the cloth whose swatches the dyes' curves came from; '' where it is this one */
  readonly carriedFrom: string;
  /** dyes of which this cloth has too few swatches, with what there are */
  readonly lacking: readonly { readonly dye: string; readonly depths: number }[];
  readonly leftOut: readonly SwatchLeftOut[];
}

export type Grounded =
  | { readonly ok: true; readonly grounding: Grounding }
  | { readonly ok: false; readonly notYet: NotYet; readonly leftOut: readonly SwatchLeftOut[] };

/** The swatches that a cloth's shades are predicted from: its own, else another cloth's carried over by one of each dye. */
export function groundingOf(reader: Reader, scope: Scope): Grounded {
  const { cloth, known, ground, bath, observer } = scope;
  const refused = (
    why: NotYet['why'],
    dyes: NotYet['dyes'] = [],
    leftOut: readonly SwatchLeftOut[] = [],
    isCarried = false,
  ) => ({ ok: false, notYet: { why, dyes, isCarried }, leftOut }) as const;
  if (scope.isOverdyeing) return refused('overdyeing');
  if (!ground) return refused('no ground');
  if (!bath) return refused('no dye');
  const fluorescent = fluorescentDyes(reader);
  const onGround = ofBath(known, bath, ground.id);
  const sifted = siftSwatches(onGround, { observer, fluorescent });
  const own = ownSet(sifted);
  if (own.isEnough) return { ok: true, grounding: groundedOn(own) };
  // A cloth without a swatch leaves it to the other's.
  const decided = sifted.kept.length > 0 ? sifted.observer : observer;
  const other = otherSet(reader, { clothId: cloth.id, bath, observer: decided, fluorescent });
  if (!other) return refused(own.hasUndyed ? 'few depths' : 'no undyed swatch', own.lacking, own.leftOut);
  const { dyes } = other.own.set;
  const alike = siftSwatches(onGround, { observer: other.own.set.observer, fluorescent });
  const onto = ontoSet(alike, dyes);
  const toDye = onto.missing.map((dye) => ({ dye, depths: 0 }));
  if (!onto.hasUndyed) return refused('no undyed swatch', toDye, onto.leftOut, true);
  if (onto.missing.length === dyes.length) return refused('another cloth', toDye, onto.leftOut, true);
  return {
    ok: true,
    grounding: {
      basis: { from: other.own.set, onto: onto.set.swatches },
      own: onto.set,
      usable: dyes.flatMap((dye, at) => (onto.missing.includes(dye) ? [] : [at])),
      carriedFrom: other.name,
      lacking: toDye,
      leftOut: onto.leftOut,
    },
  };
}

function groundedOn({ set, lacking, leftOut }: OwnSet): Grounding {
  return {
    basis: { from: set, onto: null },
    own: set,
    usable: set.dyes.map((_, dye) => dye),
    carriedFrom: '',
    lacking,
    leftOut,
  };
}

/** The names of dyes that give off light of their own. */
export function fluorescentDyes(reader: Reader): ReadonlySet<string> {
  return new Set(readDyes(reader).flatMap(({ isFluorescent, name }) => (isFluorescent ? [name] : [])));
}

/** The swatches of one class of dye, and the undyed; each says whether it lies on the ground. */
function ofBath(known: readonly ReadSwatch[], bath: BathKind, groundId: number): KnownSwatch[] {
  return known
    .filter((swatch) => swatch.bath === null || bathValue(swatch.bath) === bathValue(bath))
    .map((swatch) => ({ ...swatch, onGround: swatch.groundId === groundId }))
    .filter(({ bath: dyed, onGround }) => dyed !== null || onGround);
}

/** Of the other cloths the one that most can be learned from. */
function otherSet(
  reader: Reader,
  {
    clothId,
    bath,
    observer,
    fluorescent,
  }: {
    readonly clothId: number;
    readonly bath: BathKind;
    readonly observer: Observer | null;
    readonly fluorescent: ReadonlySet<string>;
  },
) {
  const found = readClothsWithSwatches(reader, clothId).flatMap(({ id, name }) => {
    const known = readKnown(reader, id);
    const grounds = [...new Set(known.map(({ groundId }) => groundId))];
    return grounds.map((groundId) => {
      const sifted = siftSwatches(ofBath(known, bath, groundId), { observer, fluorescent });
      return { name, own: ownSet(sifted) };
    });
  });
  const [best] = found
    .filter(({ own }) => own.isEnough)
    .sort((one, other) => other.own.set.swatches.length - one.own.set.swatches.length);
  return best ?? null;
}

function readClothsWithSwatches(reader: Reader, except: number) {
  const { db } = reader;
  const inJobs = db
    .selectFrom('swatch_job')
    .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
    .select('lot.cloth_id');
  return reader.all(
    db
      .selectFrom('cloth')
      .select(['id', 'name'])
      .where('id', '<>', except)
      .where(({ eb, or }) =>
        or([
          eb('id', 'in', inJobs),
          eb('id', 'in', db.selectFrom('dyed_swatch').select('cloth_id').where('undone_key', 'is', null)),
        ]),
      ),
  );
}
