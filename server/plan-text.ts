import { setImmediate } from 'node:timers/promises';
import type { StudyPlan } from '../engine/studies/shared/shape.ts';
import type { Answer } from './task.ts';

/** Points in one line: about a millisecond to read. */
const GROUP = 1000;

/** A plan as it travels from a worker: a line without its points, then lines of so many points each. */
export function planText(plan: StudyPlan): string {
  const lines = [JSON.stringify({ ...plan, points: [] })];
  for (let i = 0; i < plan.points.length; i += GROUP)
    lines.push(JSON.stringify(plan.points.slice(i, i + GROUP)));
  return lines.join('\n');
}

/** Reads it back. A plan of 100,000 draws takes some 100 ms: between its lines other requests have their turn. */
export async function readPlan({ body }: Answer): Promise<StudyPlan> {
  const bytes = Buffer.from(body.buffer, body.byteOffset, body.byteLength);
  const points: StudyPlan['points'][number][] = [];
  let head: StudyPlan | undefined;
  for (let at = 0; at < bytes.length;) {
    const end = bytes.indexOf('\n', at);
    const line: unknown = JSON.parse(bytes.toString('utf8', at, end < 0 ? bytes.length : end));
    if (head === undefined) head = line as StudyPlan;
    else points.push(...(line as StudyPlan['points']));
    at = end < 0 ? bytes.length : end + 1;
    await setImmediate();
  }
  return { ...head!, points };
}
