import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { sayFullness, withExact } from '../../../src/quantity/fullness.ts';
import type { Tx } from '../../database/book.ts';
import { keepTyped } from '../../kit/typed.ts';
import { readUnits } from '../../kit/workroom.ts';
import type { TierFigures } from '../garment/records.ts';

/** Writes a new tier with its colour blocks. Gives its number. */
export function putTier(
  tx: Tx,
  garmentId: number,
  position: number,
  figures: TierFigures,
  texts: Readonly<Record<string, string>>,
): number {
  const at = { garment_id: garmentId, position, taken_out_at: null };
  const { lastId } = tx.run(tx.db.insertInto('tier').values({ ...at, ...tierColumns(tx, figures, texts) }));
  putBlocks(tx, lastId, figures);
  return lastId;
}

/** The columns of a tier, and beside them what was typed for it by the names of its form's fields. */
export function tierColumns(tx: Tx, figures: TierFigures, texts: Readonly<Record<string, string>>) {
  return {
    name: figures.ownName || figures.name,
    hangs: figures.hangs,
    drop_ticks: figures.dropTicks,
    on_tier_id: figures.onTierId,
    height_ticks: figures.heightTicks,
    cloth_id: figures.clothId,
    depth_ticks: figures.depthTicks,
    overlap_ticks: figures.overlapTicks,
    fullness_milli: figures.fullnessMilli,
    ratio_tier_id: figures.ratioTierId,
    ring: figures.ring ? 1 : 0,
    opening_way: figures.openingWay,
    placed_by: figures.placedBy,
    placed_ticks: figures.placedTicks,
    level_tier_id: figures.levelTierId,
    seam_kind: figures.seamKind,
    seam_ticks: figures.seamTicks,
    end_ticks: figures.endTicks,
    heading_ticks: figures.headingTicks,
    upper_edge: figures.upperEdge,
    hang_seam_ticks: figures.hangSeamTicks,
    lower_edge: figures.lowerEdge,
    hem_ticks: figures.hemTicks,
    hem_first: figures.hemFirst ? 1 : 0,
    direction: figures.direction,
    strip_length_ticks: figures.stripLengthTicks,
    offset_strips: figures.offsetStrips,
    finish_repeat: figures.finishRepeat ? 1 : 0,
    typed: keepTyped(readUnits(tx, tx.personId), withFullness(figures, texts)),
    changed_at: tx.at,
    changed_by_id: tx.personId,
  };
}

/** A fraction is read from its text again, so a text that says another fullness than the figures is put right. */
function withFullness(figures: TierFigures, texts: Readonly<Record<string, string>>) {
  const said = sayFullness(figures);
  const again = withExact({ value: figures.fullnessMilli, typed: texts.fullness ?? '' });
  return sayFullness(again) === said ? texts : { ...texts, fullness: said };
}

export function putBlocks(tx: Tx, tierId: number, { blocks }: TierFigures): void {
  blocks.forEach(({ shadeId, clothId, strips, lots }, place) => {
    const of = { tier_id: tierId, position: place + 1 };
    const block = { ...of, shade_id: shadeId, cloth_id: clothId, strips, lots };
    tx.run(tx.db.insertInto('colour_block').values(block));
  });
}

/** Keeps the sizes of strip that are asked for from now on, so that what was cut before can be told apart. */
export function keepSize(tx: Tx, tierId: number, worked: WorkedTier): void {
  const shades = new Map(worked.count.perShade.map((shade) => [shade.clothId, shade]));
  for (const [clothId, { cutAs, stripLengthTicks }] of shades) {
    const size = {
      cut_depth_ticks: cutAs?.depthTicks ?? worked.cutDepthTicks,
      strip_length_ticks: cutAs?.lengthTicks ?? stripLengthTicks,
    };
    keepSizeOf(tx, tierId, clothId, size);
  }
}

/** The same of one cloth of a tier or of a part's row. */
export function keepSizeOf(
  tx: Tx,
  tierId: number,
  clothId: number,
  size: { readonly cut_depth_ticks: number; readonly strip_length_ticks: number },
): void {
  const last = tx.first(tx.db.selectFrom('entry').select((of) => of.fn.max<number | null>('id').as('id')));
  const at = { tier_id: tierId, after_entry_id: last?.id ?? 0, cloth_id: clothId };
  tx.run(
    tx.db
      .insertInto('tier_size')
      .values({ ...at, ...size })
      .onConflict((same) => same.columns(['tier_id', 'after_entry_id', 'cloth_id']).doUpdateSet(size)),
  );
}
