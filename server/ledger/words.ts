import type { EntryKind } from '../../src/ledger.ts';

/** The kinds of entry as a workroom says them. */
export const KIND_WORDS: Record<EntryKind, string> = {
  received: 'Received',
  cut: 'Cut',
  'split-off': 'Split off',
  joined: 'Joined as remnant',
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
