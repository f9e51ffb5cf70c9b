import { readQuantity } from '../../engine/base/units.ts';
import type { JigCaptures } from '../../engine/fitting/jig/fit-core.ts';
import { MeasureError } from '../../engine/fitting/jig/measure-core.ts';
import { readCurrent, type MeasuredDrive } from '../../engine/fitting/jig/read-current.ts';
import type { JigGiven } from './jig-captures-view.ts';

/** A capture to choose from. */
export interface Source {
  readonly label: string;
  readonly trace: { readonly time: Float64Array; readonly value: Float64Array };
}

/** What is to be read off captures of one core, and the drive where its current was captured beside the ONE. */
export interface JigAsked {
  readonly captures: JigCaptures;
  readonly drive: MeasuredDrive | undefined;
}

/**
 * What is to be read, from the fields as typed; or one sentence about what is wrong with them.
 *
 * @param rise the field of the handbook as typed; that of a captured current stands in its place
 */
export function readGiven(given: JigGiven, sources: readonly Source[], rise: string): JigAsked | string {
  const named = (wanted: string) => sources.find(({ label }) => label === wanted);
  const [one, zero] = [named(given.one), named(given.zero)];
  if (!one) return 'Choose the capture of a ONE: take one at the top of this page first.';
  const drive = driveOf(named(given.oneCurrent), 'the ONE');
  if (typeof drive === 'string') return drive;
  const again = zero ? driveOf(named(given.zeroCurrent), 'the ZERO') : undefined;
  if (typeof again === 'string') return again;
  const long = drive?.rise ?? readTime(rise, 'The rise of the drive');
  if (typeof long === 'string') return long;
  const start = drive?.start ?? readTime(given.oneStart, 'The start of the drive’s rise in the ONE');
  if (typeof start === 'string') return start;
  const second = zero
    ? (again?.start ?? readTime(given.zeroStart, 'The start of the drive’s rise in the ZERO'))
    : 0;
  if (typeof second === 'string') return second;
  const gain = given.gain.trim() === '' ? 1 : Number(given.gain.replace(',', '.'));
  if (!(Math.abs(gain) > 0 && Number.isFinite(gain)))
    return 'The gain must be a plain number that is not 0: write it like 10.';
  return {
    captures: {
      one: { trace: one.trace, edge: { start, rise: long } },
      disturbedZero: zero && { trace: zero.trace, edge: { start: second, rise: long } },
      gain,
    },
    drive,
  };
}

/** The drive that a captured current shows, where one was chosen; or what is wrong with it. */
function driveOf(current: Source | undefined, beside: string): MeasuredDrive | string | undefined {
  if (!current) return undefined;
  try {
    return readCurrent(current.trace);
  } catch (error) {
    if (!(error instanceof MeasureError)) throw error;
    return `Current beside ${beside}: ${error.message}`;
  }
}

/** s, or what is wrong with it. */
function readTime(text: string, what: string): number | string {
  const reading = readQuantity(text.trim(), 's');
  return reading.ok
    ? reading.value
    : `${what} must be a time with its unit, but it ${reading.why}: write it like 25 ns.`;
}
