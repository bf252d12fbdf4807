import { USUAL_UNCERTAINTY_CENTI } from '../../../src/colour/colour-reading.ts';
import { type Lab, labToScreen, sayLabTenths } from '../../../src/colour/lab.ts';
import { labByCard, type PairJudged, pairInPhoto, REFOLDS } from '../../../src/colour/photo-pair.ts';
import type { Reader } from '../../database/book.ts';
import { countOf } from '../../kit/words.ts';
import type { Photo, PhotoSet, SetJudged } from './store.ts';
import { nameSubjects, type SubjectName, subjectValue } from './subject.ts';

/** How far black and white below a sheer may show apart in one photo before it counts as thick enough (our rule). */
const LOOKS_ALIKE = 0.5;
const ACROSS_PHOTOS = USUAL_UNCERTAINTY_CENTI['photo card'] / 100;

export interface SetName {
  readonly title: string;
  readonly one: SubjectName;
  readonly other: SubjectName | null;
}

type Named = Pick<PhotoSet, 'kind' | 'one' | 'other'>;

export function nameSet(reader: Reader, set: Named): SetName {
  return nameSets(reader, [{ ...set, id: 0 }]).get(0) as SetName;
}

/** What sets are called, by their number. */
export function nameSets(
  reader: Reader,
  sets: readonly (Named & { readonly id: number })[],
): Map<number, SetName> {
  const names = nameSubjects(
    reader,
    sets.flatMap(({ one, other }) => (other ? [one, other] : [one])),
  );
  const nameOf = (subject: Named['one']) => names.get(subjectValue(subject)) as SubjectName;
  return new Map(
    sets.map((set) => {
      const one = nameOf(set.one);
      const other = set.other ? nameOf(set.other) : null;
      return [set.id, { one, other, title: titleOf(set, one, other) }] as const;
    }),
  );
}

function titleOf({ kind }: Named, one: SubjectName, other: SubjectName | null): string {
  if (other) return `${one.name} beside ${other.inSentence}`;
  return kind === 'backings' ? `${one.name} over white and black` : `${one.name} beside a grey card`;
}

/** What one photo shows: "ΔE00 0.42". '' where it is not marked yet. */
export function sayPhoto(set: Pick<PhotoSet, 'kind' | 'cardReflectance'>, { areas }: Photo): string {
  if (!areas) return '';
  const { other, ...first } = areas;
  if (!other)
    return sayLabTenths(labByCard(first.one.measured.light, first.card.measured.light, set.cardReflectance));
  return `ΔE00 ${pairInPhoto({ ...areas, other }, set.cardReflectance).deltaE.toFixed(2)}`;
}

/** What the photos of a set come to, how sure that is, and what makes it surer. */
export function sayJudged(
  set: Pick<PhotoSet, 'kind' | 'photos' | 'layers'>,
  { one, other }: SetName,
  judged: SetJudged | null,
) {
  if (!judged) return { said: '', sure: '', next: 'Mark the card and the cloth on the photo.', chips: [] };
  const { pair } = judged;
  if (!pair)
    return {
      said: `${sayLabTenths(judged.lab)} (D65, 2°)`,
      sure: `Likely within ΔE00 ${ACROSS_PHOTOS} of the cloth’s own colour. Enough to find a near shade; too little to say whether lots match.`,
      next: '',
      chips: [chipOf(one.name, judged.lab)],
    };
  const said = `ΔE00 ${pair.deltaE.toFixed(2)}`;
  if (set.kind === 'backings') {
    const alike = pair.deltaE <= LOOKS_ALIKE;
    return {
      said: `${said} between over white and over black`,
      sure: '',
      next: alike
        ? `${countOf(set.layers, 'layer', 'layers')} are enough: white and black below look alike.`
        : `At ${countOf(set.layers, 'layer', 'layers')} what lies below still shows. Fold again and take new photos with the number of layers.`,
      chips: [chipOf('Over white', pair.one), chipOf('Over black', pair.other)],
    };
  }
  return {
    said,
    sure: saySure(pair),
    next:
      pair.photos < REFOLDS
        ? `${countOf(REFOLDS - pair.photos, 'more photo', 'more photos')} of the cloths, refolded each time, make it surer.`
        : '',
    chips: [chipOf(one.name, pair.one), chipOf(other?.name ?? '', pair.other)],
  };
}

function saySure({ uncertainty, photos, spread }: PairJudged): string {
  const by = photos === 1 ? 'one photo' : countOf(photos, 'photo', 'photos');
  const apart = spread === null ? '' : `; they differ among themselves by ± ${spread.toFixed(2)}`;
  return `Likely within ± ${uncertainty.toFixed(1)}, by ${by}${apart}.`;
}

const chipOf = (name: string, lab: Lab) => ({ name, colour: labToScreen(lab) });
