import { showMoney } from '../../../src/quantity/money.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { creditFields, readReturns } from './store.ts';

/** What went back to suppliers, with the credit expected and come. */
export function returnsPage(
  reader: Reader,
  asker: Asker,
  refused: { readonly id: number; readonly typed: Typed } | null = null,
) {
  const returns = readReturns(reader, asker);
  const sum = (of: (row: (typeof returns)[number]) => number) =>
    showMoney(
      returns.reduce((so, row) => so + of(row), 0),
      asker.currency,
    );
  const data = {
    requestKey: mintKey(),
    returns: returns.map(({ expectedMinor: _expected, comeMinor, comeOnDay, ...row }) => {
      const isRefused = refused?.id === row.id;
      const asTyped = {
        credit: comeMinor === null ? '' : writeMoney(comeMinor, asker.currency),
        come_on: comeOnDay,
        number: row.number,
        settled: row.settled ? 'yes' : '',
      };
      return {
        ...row,
        isRefused,
        fields: drawFields(creditFields(asker), { ...asTyped, ...(isRefused ? refused.typed : {}) }),
      };
    }),
    /** expected of what no credit came for yet, and come in all */
    open: sum(({ expectedMinor, comeMinor }) => (comeMinor === null ? expectedMinor : 0)),
    come: sum(({ comeMinor }) => comeMinor ?? 0),
  };
  return { view: 'orders/returned/returned', data, title: 'Sent back', room: 'orders' } satisfies Page;
}
