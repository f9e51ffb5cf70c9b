import { setImmediate } from 'node:timers/promises';
import type { PointResult, StudyPlan } from '../engine/studies/shared/shape.ts';
import type { Answer } from './task.ts';

/**
 * Plans and results as they travel between threads: lines of so many points each, of which one takes a millisecond or
 * so. The thread that listens does a line at a time, and others have their turn between two.
 */
const GROUP = 1000;

/** A plan: a line without its points, then its points. */
export function planText(plan: StudyPlan): string {
  return [JSON.stringify({ ...plan, points: [] }), ...linesOf(plan.points)].join('\n');
}

/** Reads it back, with turns for others: a plan of 100,000 draws takes some 100 ms. */
export async function readPlan({ body }: Answer): Promise<StudyPlan> {
  const lines: unknown[] = [];
  for (const line of readLines(body)) {
    lines.push(line);
    await setImmediate();
  }
  return asPlan(lines);
}

/** Results, with turns for others. */
export async function resultLines(results: readonly PointResult[]): Promise<Uint8Array[]> {
  const lines: Uint8Array[] = [];
  for (const line of linesOf(results)) {
    lines.push(new TextEncoder().encode(line));
    await setImmediate();
  }
  return lines;
}

/** Both at once, for a thread that has nothing else to do. */
export function readStudyLines(
  plan: Uint8Array,
  results: readonly Uint8Array[],
): { readonly plan: StudyPlan; readonly results: PointResult[] } {
  return {
    plan: asPlan([...readLines(plan)]),
    results: results.flatMap((line) => JSON.parse(new TextDecoder().decode(line)) as PointResult[]),
  };
}

function* linesOf(points: readonly unknown[]): Generator<string> {
  for (let i = 0; i < points.length; i += GROUP) yield JSON.stringify(points.slice(i, i + GROUP));
}

function* readLines(body: Uint8Array): Generator<unknown> {
  const bytes = Buffer.from(body.buffer, body.byteOffset, body.byteLength);
  for (let at = 0; at < bytes.length;) {
    const end = bytes.indexOf('\n', at);
    yield JSON.parse(bytes.toString('utf8', at, end < 0 ? bytes.length : end));
    at = end < 0 ? bytes.length : end + 1;
  }
}

function asPlan([head, ...groups]: readonly unknown[]): StudyPlan {
  return { ...(head as StudyPlan), points: (groups as StudyPlan['points'][]).flat() };
}
