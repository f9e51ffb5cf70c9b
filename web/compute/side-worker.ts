import { advise } from '../../engine/advice/advice.ts';
import { readingBands } from '../../engine/advice/bands.ts';
import { writeQuantity } from '../../engine/base/format-quantity.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { DesignError } from '../../engine/design/design-error.ts';
import type { Design } from '../../engine/design/design.ts';
import { channelReport } from '../../engine/channel/channel-report.ts';
import { buildPack } from '../../engine/pack/build-pack.ts';
import { packDocument } from '../../engine/pack/sheets.ts';
import { makeReport } from '../../engine/report/report.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { finished } from '../../engine/solver/finished.ts';
import { withValueAt, type RawDesign } from '../model/pointer.ts';
import { serve } from './serve.ts';
import type { SideTasks } from './side-messages.ts';

serve<SideTasks>({
  advice: ({ design, wanted }, tell) =>
    advise(design, { wanted, onProgress: (done, total, next) => tell({ done, total, next }) }),
  channel: (design) => channelReport(design, { simulate }),
  report: (design) => makeReport(design),
  pack: (design) => packDocument(buildPack(design)),
  band: ({ raw, ensemble, pointers, unit, nominal, ...ask }) => {
    const make = (value: number): Design | undefined => {
      const text = writeQuantity(value, unit);
      return checked(pointers.reduce((next, pointer) => withValueAt(next, pointer, text), raw));
    };
    return readingBands(ensemble, nominal ? 'corners' : 'nominal', { ...ask, make }, simulate, nominal);
  },
  shares: ({ design, at }) => {
    const until = Math.max(...at) + 4 * design.numerics.output;
    const options = { contributions: false, estimateError: false, balance: false, until, sharesAt: [...at] };
    return finished(simulate(design, options)).shares!;
  },
});

/** Undefined where it is refused. */
function checked(raw: RawDesign): Design | undefined {
  try {
    return checkDesign(raw);
  } catch (error) {
    if (error instanceof DesignError) return undefined;
    throw error;
  }
}
