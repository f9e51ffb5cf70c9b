import { CaptureError } from './capture.ts';
import type { Ambiguity, CaptureOptions } from './capture.ts';

/** Samples in order of time, each with a time of its own. */
export interface SettledTimes {
  readonly time: Float64Array;
  /** Index into the rows as read; for an averaged time several rows stand behind one sample. */
  readonly rows: readonly Int32Array[] | Int32Array;
  readonly ambiguities: readonly Ambiguity[];
  readonly notes: readonly string[];
}

/**
 * Puts the times of the rows in order: a falling column is turned round and said so; several records, missing
 * times and repeated times are asked about; a single step back is an error with its line.
 */
export function settleTimes(
  raw: Float64Array,
  line: Int32Array,
  options: CaptureOptions,
  column?: number,
): SettledTimes {
  const ambiguities: Ambiguity[] = [];
  const notes: string[] = [];
  let rows: Int32Array = Int32Array.from(raw, (_, i) => i);
  const known = rows.filter((i) => !Number.isNaN(raw[i]));
  if (known.length < 2) {
    throw new CaptureError(
      'times',
      'The column of times must hold at least two times; choose another column.',
    );
  }

  const backward = stepsBack(raw, known);
  if (backward.length === known.length - 1) {
    rows = rows.reverse();
    notes.push('The times fall from row to row; the rows were taken in reverse order.');
  } else if (backward.length > 0) {
    const records = splitRecords(rows, known, backward);
    if (!records.every((record) => record.length >= 10 && startsLike(records[0], record, raw))) {
      const at = line[known[backward[0]]];
      throw new CaptureError(
        'times',
        `The time in line ${at} must be later than the one before it; it is earlier: put the rows in order of time.`,
        at,
        column,
      );
    }
    if (options.record === undefined) {
      ambiguities.push({
        code: 'record',
        question: `The times start again ${records.length - 1} time${records.length > 2 ? 's' : ''}: which of the ${records.length} records is meant?`,
        choices: records.map((record, i) => {
          const [from, to] = [line[record[0]], line[record.at(-1) as number]];
          return {
            label: `record ${i + 1}: lines ${from} to ${to}`,
            options: { record: i + 1 },
            lines: [from, to] as const,
          };
        }),
      });
    } else if (options.record < 1 || options.record > records.length) {
      throw new CaptureError(
        'option',
        `The record must be from 1 to ${records.length}; received ${options.record}.`,
      );
    }
    rows = records[(options.record ?? 1) - 1];
  }

  const time = Float64Array.from(rows, (i) => raw[i]);
  const missing = time.reduce((count, t) => count + (Number.isNaN(t) ? 1 : 0), 0);
  if (missing > 0) {
    if (options.missingTimes === undefined) {
      const first = line[rows[time.findIndex((t) => Number.isNaN(t))]];
      ambiguities.push({
        code: 'missing-times',
        question: `${missing} of ${time.length} samples have no time, the first in line ${first}: place them evenly between their neighbours, or leave them out?`,
        choices: [
          { label: 'place them evenly', options: { missingTimes: 'fill' } },
          { label: 'leave them out', options: { missingTimes: 'drop' } },
        ],
      });
    }
    if (options.missingTimes === 'fill') fillEvenly(time);
    const keep = [...time.keys()].filter((i) => !Number.isNaN(time[i]));
    if (keep.length < time.length)
      return finish(
        keep.map((i) => time[i]),
        Int32Array.from(keep, (i) => rows[i]),
      );
  }
  return finish(time, rows);

  function finish(times: ArrayLike<number>, kept: Int32Array): SettledTimes {
    return settleRepeats(Float64Array.from(times), kept, line, options, ambiguities, notes);
  }
}

function settleRepeats(
  time: Float64Array,
  rows: Int32Array,
  line: Int32Array,
  options: CaptureOptions,
  ambiguities: Ambiguity[],
  notes: string[],
): SettledTimes {
  const groups: number[][] = [];
  time.forEach((t, i) => (i > 0 && t === time[i - 1] ? groups.at(-1)?.push(i) : groups.push([i])));
  if (groups.length === time.length) return { time, rows, ambiguities, notes };
  if (options.repeatedTimes === undefined) {
    const first = groups.find((group) => group.length > 1) as number[];
    ambiguities.push({
      code: 'repeated-times',
      question: `${time.length - groups.length} samples repeat the time of the one before, the first in line ${line[rows[first[1]]]}: place them evenly up to the next time, or average them?`,
      choices: [
        { label: 'place them evenly', options: { repeatedTimes: 'spread' } },
        { label: 'average them', options: { repeatedTimes: 'average' } },
      ],
    });
  }
  if (options.repeatedTimes === 'spread') {
    groups.forEach((group, g) => {
      const start = time[group[0]];
      const next = groups[g + 1] ? time[groups[g + 1][0]] : 2 * start - time[groups[g - 1]?.[0] ?? 0];
      group.forEach((i, k) => (time[i] = start + ((next - start) * k) / group.length));
    });
    return { time, rows, ambiguities, notes };
  }
  return {
    time: Float64Array.from(groups, (group) => time[group[0]]),
    rows: groups.map((group) => Int32Array.from(group, (i) => rows[i])),
    ambiguities,
    notes,
  };
}

/** Positions in `known` whose time is earlier than the one before. */
function stepsBack(raw: Float64Array, known: Int32Array): number[] {
  const back: number[] = [];
  for (let k = 1; k < known.length; k++) if (raw[known[k]] < raw[known[k - 1]]) back.push(k);
  return back;
}

/** A further record begins about where the first one does; anything else is a row out of place. */
function startsLike(first: Int32Array, record: Int32Array, raw: Float64Array): boolean {
  const length = raw[first[first.length - 1]] - raw[first[0]];
  return Math.abs(raw[record[0]] - raw[first[0]]) <= 0.1 * length;
}

function splitRecords(rows: Int32Array, known: Int32Array, backward: readonly number[]): Int32Array[] {
  const starts = [0, ...backward.map((k) => known[k]), rows.length];
  return starts.slice(1).map((end, i) => rows.slice(starts[i], end));
}

/** NaNs between two known times are placed evenly; at an end they continue at the distance next to them. */
function fillEvenly(time: Float64Array): void {
  const known = [...time.keys()].filter((i) => !Number.isNaN(time[i]));
  for (let i = 0; i < time.length; i++) {
    if (!Number.isNaN(time[i])) continue;
    const after = known.findIndex((k) => k > i);
    const [a, b] =
      after < 0 ? known.slice(-2) : after === 0 ? known.slice(0, 2) : [known[after - 1], known[after]];
    time[i] = time[a] + ((time[b] - time[a]) * (i - a)) / (b - a);
  }
}
