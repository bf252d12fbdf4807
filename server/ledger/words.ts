import type { EntryKind, OtherUseKind } from '../../src/ledger/entries.ts';

/** The kinds of entry as a workroom says them. */
export const KIND_WORDS: Record<EntryKind, string> = {
  received: 'Received',
  cut: 'Cut',
  'split-off': 'Split off',
  joined: 'Kept as remnant',
  held: 'Held',
  released: 'Released',
  'sent-to-dye': 'Sent to dye',
  'back-from-dye': 'Back from dye',
  shrunk: 'Shrunk in dyeing',
  recounted: 'Recounted',
  'written-off': 'Written off',
  returned: 'Returned to supplier',
  reversed: 'Undone',
};

/** The kinds of entry in a sentence: "B12 was cut by …". */
export const KIND_DEEDS: Record<EntryKind, string> = {
  received: 'was received',
  cut: 'was cut',
  'split-off': 'was split',
  joined: 'was kept as a remnant',
  held: 'was held',
  released: 'was released',
  'sent-to-dye': 'was sent to dye',
  'back-from-dye': 'was brought back from dye',
  shrunk: 'was entered as shrunk',
  recounted: 'was recounted',
  'written-off': 'was written off',
  returned: 'was returned to the supplier',
  reversed: 'was undone',
};

/** What a length is cut or held for besides tiers, in a sentence: "held for repair". */
export const OTHER_USE_WORDS: Record<OtherUseKind, string> = {
  repair: 'repair',
  sample: 'sample',
  swatch: 'swatch',
  part: 'part',
  sold: 'sale',
  lent: 'loan',
  other: 'other use',
};
