import type { Run } from './run.ts';

/** An instant worth stopping at, s, and what holds from then on. */
export interface ClockMark {
  readonly time: number;
  readonly name: string;
  readonly phase: string;
}

/** Parts of the greatest current at which an edge counts as begun and as done. */
const [BEGUN, DONE] = [0.02, 0.98];

/**
 * The instants of a read and the write after it, found on the run's own currents and on what the selected core gives.
 * Those of which the cycle has nothing are left out. @param strobe s; undefined: being sought
 */
export function clockMarks(run: Run, bit: 0 | 1, strobe: number | undefined): readonly ClockMark[] {
  const { time, currents, contributions } = bit === 1 ? run.one : run.zero;
  const both = currents.x.map((x, i) => x + currents.y[i]!);
  const most = both.reduce((size, value) => Math.max(size, Math.abs(value)), 0);
  const first = (from: number, holds: (i: number) => boolean): number | undefined => {
    for (let i = from; i < time.length; i++) if (holds(i)) return i;
    return undefined;
  };
  const read = first(0, (i) => both[i]! < -BEGUN * most);
  const done = read === undefined ? undefined : first(read, (i) => both[i]! < -DONE * most);
  const off = done === undefined ? undefined : first(done, (i) => both[i]! > -DONE * most);
  const quiet = off === undefined ? undefined : first(off, (i) => both[i]! > -BEGUN * most);
  const write = first(quiet ?? 0, (i) => both[i]! > BEGUN * most);
  const end = write === undefined ? undefined : first(write + 1, (i) => Math.abs(both[i]!) < BEGUN * most);
  const size = (i: number): number => Math.abs(contributions?.selectedCore[i] ?? 0);
  const bell = done === undefined || off === undefined ? undefined : extreme(done, off, (i) => size(i));
  const valley = done === undefined || bell === undefined ? undefined : extreme(done, bell, (i) => -size(i));
  const at = (i: number | undefined): number | undefined => (i === undefined ? undefined : time[i]);
  const marks: readonly (readonly [number | undefined, string, string])[] = [
    [at(read), 'drive on', 'currents rise, cores lean'],
    [at(done), 'edge done', 'currents stand'],
    [bit === 1 && valley !== done ? at(valley) : undefined, 'valley', 'the selected core turns'],
    [bit === 1 ? at(bell) : undefined, 'bell', 'most of it has turned'],
    [strobe, 'strobe', 'the latch has looked'],
    [at(off), 'read off', 'currents fall, cores spring back'],
    [at(quiet), 'pause', 'nothing flows'],
    [at(write), 'write on', 'the bit is written back'],
    [at(end), 'write off', 'rest until the next read'],
  ];
  return marks
    .flatMap(([t, name, phase]) => (t === undefined ? [] : [{ time: t, name, phase }]))
    .sort((a, b) => a.time - b.time);
}

/** The sample in [from, to] of which the most is had, the first of equals. */
function extreme(from: number, to: number, of: (i: number) => number): number {
  let best = from;
  for (let i = from; i <= to; i++) if (of(i) > of(best)) best = i;
  return best;
}

/** The next mark after (+1) or before (−1) an instant, s; undefined at the ends. */
export const markBeside = (marks: readonly ClockMark[], at: number, by: 1 | -1): ClockMark | undefined => {
  const apart = 0.1e-9;
  return by > 0
    ? marks.find(({ time }) => time > at + apart)
    : [...marks].reverse().find(({ time }) => time < at - apart);
};

/** What goes on at an instant: the mark that it stands at, or what holds since the last one. */
export function phaseAt(marks: readonly ClockMark[], at: number): string {
  const here = marks.find(({ time }) => Math.abs(time - at) < 0.6e-9);
  if (here) return here.name;
  return [...marks].reverse().find(({ time }) => time <= at)?.phase ?? 'nothing flows yet';
}
