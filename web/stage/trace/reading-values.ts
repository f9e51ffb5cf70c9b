import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { sampleAt } from '../../charts/decimate.ts';
import { judgedUntil } from '../../model/envelopes.ts';
import { measuredIn } from '../../model/measured-trace.ts';
import type { Run } from '../../model/run.ts';
import { builtUp, CAUSES, causesOf, samplesOf, seenSamples } from '../../model/traces.ts';
import type { Page } from '../../state/page.ts';
import { freshOf } from './fresh.ts';
import { signedReads } from './signed-reads.ts';

/** One figure of a lane at the reading line. */
interface Reading {
  readonly name: string;
  readonly text: string;
}

/** What a lane says at an instant; `old`: of the inputs before the last change. */
export interface LaneReading {
  readonly values: readonly Reading[];
  readonly old: boolean;
}

export type ReadLane = (page: Page, time: number) => LaneReading | undefined;

const volts = (value: number): string => formatQuantity(Math.round(value * 1e5) / 1e5, 'V', 3);
const amps = (value: number): string => formatQuantity(Math.round(value * 1e4) / 1e4, 'A', 3);
const at = (run: Run, values: ArrayLike<number>, time: number): number =>
  sampleAt(samplesOf(run, values), time);

export const readSignal: ReadLane = (page, time) => {
  const { atoms, now } = page;
  const heard = atoms.heard.value;
  const run = now.run.value;
  if (heard !== 'latch')
    return (
      run && {
        old: now.runIsOld.value,
        values: signedReads(run, heard).map((values, i) => ({
          name: i === 0 ? 'ONE' : 'ZERO',
          text: volts(at(run, values, time)),
        })),
      }
    );
  const fresh = freshOf(page);
  if (fresh) {
    const { one, zero } = fresh;
    return {
      old: false,
      values: [
        ...(one ? [{ name: 'ONE', text: volts(sampleAt(seenSamples(one), time)) }] : []),
        ...(zero ? [{ name: 'ZERO', text: volts(sampleAt(seenSamples(zero), time)) }] : []),
      ],
    };
  }
  const [judged, strobe] = [now.judged.value, now.strobe.value];
  if (!judged || !strobe) return undefined;
  const measured = measuredIn(judged, atoms.measured.value);
  const followed = time <= judgedUntil(judged);
  return {
    old: now.judgedIsOld.value,
    values: [
      ...(followed
        ? [
            { name: 'least ONE', text: volts(at(judged, strobe.envelope.one, time)) },
            { name: 'greatest ZERO', text: volts(at(judged, strobe.envelope.zero, time)) },
          ]
        : []),
      ...(measured ? [{ name: 'measured', text: volts(sampleAt(measured.samples, time)) }] : []),
    ],
  };
};

export const readCauses: ReadLane = ({ atoms, now }, time) => {
  const run = now.run.value;
  if (!run) return undefined;
  const alone = causesOf(run, atoms.bit.value);
  const parts = atoms.causes.value === 'up' ? builtUp(alone) : alone;
  const all = CAUSES.map(({ key, title }) => ({
    name: title.toLowerCase(),
    value: at(run, parts[key], time),
  }));
  const heard = all.filter(({ value }) => Math.abs(value) >= 5e-6);
  return {
    old: now.runIsOld.value,
    values: (heard.length > 0 ? heard : all.slice(2, 3)).map(({ name, value }) => ({
      name,
      text: volts(value),
    })),
  };
};

export const readDetector: ReadLane = ({ now }, time) => {
  const pulses = now.strobe.value?.pulses;
  if (!pulses) return undefined;
  const state = (list: readonly { readonly start: number; readonly end: number }[]): string =>
    list.some(({ start, end }) => start <= time && time <= end) ? 'high' : 'low';
  return {
    old: now.judgedIsOld.value,
    values: [
      { name: 'least ONE', text: state(pulses.one) },
      { name: 'greatest ZERO', text: state(pulses.zero) },
    ],
  };
};

export const readCurrents: ReadLane = ({ atoms, now }, time) => {
  const run = now.run.value;
  if (!run) return undefined;
  const { x, y, inhibit } = (atoms.bit.value === 1 ? run.one : run.zero).currents;
  const held = at(run, inhibit, time);
  return {
    old: now.runIsOld.value,
    values: [
      { name: 'X', text: amps(at(run, x, time)) },
      { name: 'Y', text: amps(at(run, y, time)) },
      ...(Math.abs(held) >= 5e-5 ? [{ name: 'inhibit', text: amps(held) }] : []),
    ],
  };
};
