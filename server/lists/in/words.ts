import type { StockField } from '../../../src/lists/stock-list.ts';
import type { ListState } from '../../database/list-tables.ts';

export const FIELD_NAMES: Readonly<Record<StockField, string>> = {
  code: 'Code',
  kind: 'Bolt or remnant',
  cloth: 'Cloth',
  construction: 'Construction',
  fibres: 'Fibres',
  cloth_width: 'Width of the cloth',
  cloth_usable_width: 'Usable width of the cloth',
  mass_per_area: 'Mass per area',
  finish: 'Finish and state',
  shade: 'Shade',
  undyed: 'Undyed',
  lot: 'Lot',
  length: 'Length',
  usable_width: 'Usable width of the piece',
  place: 'Place',
  supplier: 'Supplier',
  cost: 'Cost',
};

export const LIST_STATE_WORDS: Readonly<Record<ListState, string>> = {
  reading: 'being read',
  checking: 'being checked',
  ready: 'ready to be taken in',
  'taking in': 'being taken in',
  in: 'taken in',
  'taking back': 'being taken back',
  'taken back': 'taken back',
  failed: 'not read',
  stopped: 'put aside',
};
