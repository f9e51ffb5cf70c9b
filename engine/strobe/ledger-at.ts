import type { AssumedField } from '../estimates/assumed-fields.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { CoreSet } from './open-core.ts';
import type { OpenParameter } from './open-core.ts';
import type { StrobeUncertainties } from './envelope.ts';
import type { LedgerRun } from './ledger-run.ts';
import type { EndTraces } from './ledger-run.ts';
import type { LedgerEntry } from './ledger-entry.ts';

/** The ledger at a strobe and threshold, what matters most first; core parameters from the core set, where it was run. */
export function ledgerAt(
  entries: readonly LedgerRun[],
  core: CoreSet | undefined,
  time: Float64Array,
  uncertainties: StrobeUncertainties,
  at: { readonly time: number; readonly threshold: number },
): LedgerEntry[] {
  const margin = ({ one, zero }: Pick<EndTraces, 'one' | 'zero'>, u: StrobeUncertainties): number => {
    const seen = at.time - u.delay;
    const level = at.threshold + u.slope * Math.max(0, seen);
    return Math.min(valueAt(time, one, seen) - level, level - valueAt(time, zero, seen)) - u.threshold;
  };
  const fields = entries.map(({ ends, ...entry }): LedgerEntry => {
    const [marginLow, marginHigh] = ends.map((end) => margin(end, end.uncertainties)) as [number, number];
    return { ...entry, marginLow, marginHigh };
  });
  const cores = (core?.ends ?? []).flatMap(({ of, low, high }): LedgerEntry[] => {
    if (low === undefined || high === undefined || of.from === 'given') return [];
    const ends = { marginLow: margin(low, uncertainties), marginHigh: margin(high, uncertainties) };
    return [{ ...coreField(of), ...ends }];
  });
  const telling = ({ marginLow, marginHigh }: LedgerEntry): number => Math.abs(marginHigh - marginLow);
  return [...fields, ...cores].sort((a, b) => telling(b) - telling(a));
}

/** What is not known of a core as a field of the ledger; what its readings leave open together stands under the test. */
export function coreField({
  parameter,
  value,
  low,
  high,
  from,
}: Omit<OpenParameter, 'cores' | 'measure'>): AssumedField {
  return {
    ...(parameter.includes(' ')
      ? { field: '/core/test', of: parameter }
      : { field: `/core/parameters/${parameter}` }),
    value,
    low,
    high,
    from: from === 'assumed' ? 'default' : (from as AssumedField['from']),
  };
}
