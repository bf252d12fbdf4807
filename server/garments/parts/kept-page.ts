import type { LengthUnit } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { cuttingPath, garmentPartPath, garmentPath, newPartPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { sizeUnit } from '../../kit/units.ts';
import { orProblems } from '../../refusal.ts';
import { readSewing } from '../../setup/rates/store.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Garment, readGarment } from '../garment/records.ts';
import { readUsableWidths, tiersIn, workGarment } from '../garment/worked.ts';
import { PART_KINDS, partOfKind } from './all.ts';
import { garmentClothOf, nameOfSize } from './cut.ts';
import { groupedFields, type Part, type PartAnswer, partWords } from './describing.ts';
import { askedOf, keptPartFields, sizeClothFields } from './kept-form.ts';
import type { KeptPart } from './record.ts';
import { sayPartAsked } from './said.ts';
import { isOfTier, startingFrom } from './starting.ts';

/** The kinds of part that can be added to a garment. */
export function choosePartPage(reader: Reader, code: string) {
  const garment = readGarment(reader, code);
  const data = {
    garment: linkTo(garment),
    kinds: PART_KINDS.map(({ slug, title, about }) => ({ href: newPartPath(code, slug), title, about })),
  };
  return {
    view: 'garments/parts/choose',
    data,
    title: `New part of ${garment.name}`,
    room: 'garments',
  } satisfies Page;
}

/** A part's form as it stands: of a part that is in the book, or of a new one. */
export interface PartFormState {
  readonly garment: Garment;
  readonly part: Part;
  readonly unit: LengthUnit;
  /** null for a new part */
  readonly kept: KeptPart | null;
  readonly typed: Typed;
  /** tiers whose lengths it can begin with */
  readonly from: readonly { readonly href: string; readonly name: string }[];
}

/** A new part, filled in with what the garment says already. */
export function newPartState(
  reader: Reader,
  code: string,
  kind: string,
  tierId: number | null,
  units: Units,
): PartFormState {
  const worked = workGarment(reader, code);
  const { garment } = worked;
  const part = partOfKind(kind);
  const unit = sizeUnit(units);
  return {
    garment,
    part,
    unit,
    kept: null,
    typed: startingFrom(part, worked, tierId, unit),
    from: isOfTier(part)
      ? tiersIn(garment).map(({ id, name }) => ({
          href: address(newPartPath(code, kind), { tier: String(id) }),
          name,
        }))
      : [],
  };
}

/** A part that is kept, as it was asked. */
export function keptPartState(garment: Garment, kept: KeptPart): PartFormState {
  const own = {
    name: kept.name,
    pieces: String(kept.pieces),
    cloth_id: kept.clothId === null ? '' : String(kept.clothId),
    shade_id: kept.shadeId === null ? '' : String(kept.shadeId),
    version: String(kept.version),
  };
  const typed = { ...kept.asked, ...own };
  return { garment, part: partOfKind(kept.kind), unit: kept.unit, kept, typed, from: [] };
}

/** What a part comes to as it was typed, with the problems where it cannot be worked out. */
export function workOutPart(reader: Reader, { garment, part, unit, typed }: PartFormState) {
  const clothId = Number(typed.cloth_id) || garmentClothOf(garment)?.clothId;
  const widths = readUsableWidths(reader, clothId === undefined ? [] : [clothId]);
  const words = partWords(unit, readSewing(reader), widths.get(clothId ?? 0) ?? null);
  const { value, problems } = orProblems(() => part.workOut(unit, askedOf(part, unit, typed), words));
  return { answer: value ?? null, problems };
}

/** The form of a part with what it comes to. */
export function partFormPage(reader: Reader, state: PartFormState, answer: PartAnswer | null) {
  const { garment, part, unit, kept, typed, from } = state;
  const path = kept ? garmentPartPath(garment.code, kept.id) : newPartPath(garment.code, part.slug);
  const drawn = Object.values(part.draw(unit, typed));
  const isOpen = garment.finishedAt === null;
  const data = {
    requestKey: mintKey(),
    action: path,
    cancel: `${garmentPath(garment.code)}#parts`,
    garment: linkTo(garment),
    kind: part.title,
    about: part.about,
    sources: part.sources,
    unit,
    own: drawFields(keptPartFields(reader), typed),
    groups: groupedFields(part, drawn, part.title),
    /** of the further sizes */
    cloths: Object.values(drawFields(sizeClothFields(reader, part), typed)),
    asked: sayPartAsked(drawn),
    from,
    answer,
    /** where each size is held and cut; none where it is not kept or not cut of cloth */
    tables: (answer?.cuts ?? []).flatMap(({ size = '' }) => {
      const row = kept?.rows.find((one) => one.size === size);
      return kept && row ? [{ name: nameOfSize(kept, size), href: cuttingPath(garment.code, row.id) }] : [];
    }),
    /** A finished garment is only looked at. */
    changes: isOpen,
  };
  const title = kept ? `${kept.name} of ${garment.name}` : `${part.title} of ${garment.name}`;
  return { view: 'garments/parts/kept', data, title, room: 'garments' } satisfies Page;
}

function linkTo({ code, name }: Garment) {
  return { code, name, href: garmentPath(code) };
}
