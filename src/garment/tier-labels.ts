/** What of a tier says which label it has. */
export interface TierToLabel {
  readonly id: number;
  /** as it was entered, from 1 */
  readonly position: number;
  /** as it was saved */
  readonly name: string;
  /** on the form or its foundation: the drop of its upper edge as it was saved, in ticks */
  readonly dropTicks: number | null;
  /** the tier that it edges or whose face it lies on */
  readonly onTierId: number | null;
  /** on a face: above the lower edge of that tier, in ticks */
  readonly heightTicks: number | null;
  readonly takenOutAt: string | null;
}

/** What a tier is called. */
export interface TierLabel {
  /** "1", "2"; of a ruffle "2r", the next on the same tier "2r2"; '' for one that is taken out */
  readonly label: string;
  /** the name that somebody gave it; '' where it goes by its label */
  readonly ownName: string;
  /** "Lantern ruffle (2r)"; "Tier 2r" where it goes by its label */
  readonly name: string;
}

/**
 * The labels of a garment's tiers, in their order: those that hang from the form are 1, 2, 3 from the waist down, and
 * what is sewn to one follows it, from the top down. One that leads to no form, or is taken out, has no label and
 * the name that it was saved with.
 */
export function labelTiers(tiers: readonly TierToLabel[]): Map<number, TierLabel> {
  const labels = new Map<number, TierLabel>();
  const tiersIn = tiers.filter(({ takenOutAt }) => takenOutAt === null);
  const put = (tier: TierToLabel, label: string) => {
    labels.set(tier.id, called(tier.name, label));
    const sewnOn = tiersIn
      .filter(({ id, onTierId }) => onTierId === tier.id && !labels.has(id))
      .sort((a, b) => (b.heightTicks ?? 0) - (a.heightTicks ?? 0) || a.position - b.position);
    for (const [place, ruffle] of sewnOn.entries()) put(ruffle, `${label}r${place === 0 ? '' : place + 1}`);
  };
  const onForm = tiersIn
    .filter(({ onTierId }) => onTierId === null)
    .sort((a, b) => (a.dropTicks ?? 0) - (b.dropTicks ?? 0) || a.position - b.position);
  for (const [place, tier] of onForm.entries()) put(tier, String(place + 1));
  for (const { id, name } of tiers) {
    if (!labels.has(id)) labels.set(id, { label: '', ownName: isNumbered(name) ? '' : name, name });
  }
  return labels;
}

/** Sorts labels as their tiers follow each other: 1, 1r, 1r2, 2, 10; what has none comes last. */
export function compareLabels(a: string, b: string): number {
  if (a === '' || b === '') return Number(a === '') - Number(b === '');
  return LABEL_ORDER.compare(a, b);
}

const LABEL_ORDER = new Intl.Collator('en', { numeric: true });

function called(name: string, label: string): TierLabel {
  if (isNumbered(name)) return { label, ownName: '', name: `Tier ${label}` };
  return { label, ownName: name, name: `${name} (${label})` };
}

/** Whether a name is a number only: "Tier 2", "Tier 2r", "Tier 2 ruffle"; so is a blank. */
function isNumbered(name: string): boolean {
  return /^(Tier \d+( ruffle|(r\d*)*))?$/.test(name);
}
