const HELD = 'what is held is at least 0 and at most what is on hand';
const NEW_PIECE = 'a new piece has no cost and no hold to lose, which the ledger refuses first';
const OTHER_HALF = 'the other half of a split is its exact opposite, and the rules of that half say it';
const PARTIAL_INDEX = 'sums are the same without it; with it they are read off an index';

/** Rules that say what others say too, by the name of their mutant. */
export const REDUNDANT: Readonly<Record<string, string>> = {
  'cloth.width_ticks with 0 for BETWEEN 1 AND 1600000':
    'the usable width is at least 1 and at most the width',
  'cloth_fibre.share_bp with 10001 for BETWEEN 1 AND 10000':
    'the shares of a cloth are at most 10000 together',
  'recipe.ph_from_tenths with 141 for BETWEEN 0 AND 140':
    'the other end is at most 140 and not below this one',
  'piece.on_hand_ticks without CHECK (on_hand_ticks >= 0)': HELD,
  'piece.on_hand_ticks with -1 for >= 0': HELD,
  'supply_lot.on_hand without CHECK (on_hand >= 0)': HELD,
  'supply_lot.on_hand with -1 for >= 0': HELD,
  'lot_keeps_its_cloth without origin': 'a lot is dyed where it has a batch, and the batch stays',
  'entry.cost_minor with -1000000000001 for BETWEEN -1000000000000 AND 1000000000000':
    'no piece ever carries more cost than the one entry that brings it to the shelf may have',
  "entry: 'received' without AND cost_minor >= 0": NEW_PIECE,
  "entry: 'joined' without AND held_ticks >= 0": NEW_PIECE,
  "entry: 'joined' without AND cost_minor >= 0": NEW_PIECE,
  "entry: 'back-from-dye' without AND cost_minor >= 0": NEW_PIECE,
  "entry: 'back-from-dye' without length_ticks > 0 AND":
    'it is the opposite of what was sent, which is below 0',
  "entry: 'split-off' without length_ticks < 0 AND": OTHER_HALF,
  "entry: 'split-off' without AND held_ticks BETWEEN length_ticks AND 0": OTHER_HALF,
  "entry: 'split-off' without AND cost_minor <= 0": OTHER_HALF,
  'hold_put_follows_entries without AND held_ticks <> 0': PARTIAL_INDEX,
  'hold_change_follows_entries without AND held_ticks <> 0': PARTIAL_INDEX,
  'hold_goes_when_empty without AND held_ticks <> 0': PARTIAL_INDEX,
  'batch_repeat.* without ) STRICT': 'both of its columns name batches, which have whole numbers',
  'recipe_copy.* without ) STRICT': 'its columns name recipes and a cloth, which have whole numbers',
  'request_undoes_splits_whole without back.request_key = NEW.key AND':
    'what an earlier request undid was whole when it was sealed; with it little is looked at',
  'order_line_lot.* without ) STRICT': 'both of its columns name a row, which have whole numbers',
  'lot_answer.* without ) STRICT,': 'its columns name rows, or are checked to be 0 or 1',
  'photo_result.* without ) STRICT,': 'its columns name a set and a request',
  'work_tap.* without ) STRICT':
    'its words and its instant are checked, and its other columns name a garment and a person',
  'tier_thread.* without ) STRICT': 'its columns name a tier and a shade, which have whole numbers',
};
