import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { showRate } from '../../../src/quantity/rate.ts';
import { rowForEach } from '../../shelf/receive/rows.ts';
import type { Asker } from '../../web/house.ts';
import { showPerLength } from '../offer/put-up-words.ts';
import type { Order } from '../order/queries.ts';
import type { ReceiveForm } from './form.ts';
import { cameOf, landedOf } from './landing.ts';

/** What a delivery comes to before it is put on the shelf. */
export interface LandedView {
  readonly pieces: readonly {
    readonly cloth: string;
    readonly shade: string;
    readonly length: string;
    readonly cost: string;
    readonly perLength: string;
  }[];
  /** at the order's price, in its currency; '' where nothing is at it */
  readonly goods: string;
  readonly freight: string;
  readonly tax: string;
  /** the three in the workroom's money and at which rate, '' where the order is in it */
  readonly home: string;
  /** what all pieces cost together, in the workroom's money */
  readonly total: string;
}

export function shapeLanded(order: Order, form: ReceiveForm, asker: Asker): LandedView {
  const { terms } = order;
  const rows = rowForEach(form.pieces);
  const landed = landedOf(order, cameOf(order, rows), form, asker.currency);
  const { costs, goodsMinor, freightMinor, taxMinor } = landed;
  const money = (minor: number) => (minor > 0 ? showMoney(minor, terms.currency) : '');
  return {
    pieces: rows.map((row, at) => {
      const line = order.lines.find(({ id }) => id === row.line_id);
      const costMinor = costs[at] ?? 0;
      return {
        cloth: line?.clothName ?? '',
        shade: line?.shade.name ?? '',
        length: showLength(row.length.value, asker.units, 'down'),
        cost: showMoney(costMinor, asker.currency),
        perLength: showPerLength(costMinor, row.length.value, asker.currency, asker.units),
      };
    }),
    goods: money(goodsMinor),
    freight: money(freightMinor),
    tax: money(taxMinor),
    home:
      terms.currency === asker.currency || goodsMinor + freightMinor + taxMinor === 0
        ? ''
        : `${showMoney(landed.homeMinor, asker.currency)} at ${showRate(terms.rateMillionths)}`,
    total: showMoney(
      costs.reduce((sum, minor) => sum + minor, 0),
      asker.currency,
    ),
  };
}
