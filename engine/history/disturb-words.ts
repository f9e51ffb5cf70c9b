import type { Disturbance } from './disturb-search.ts';

/** What went between the write and the read: `3 × half-read on the row, then half-write on the column`; '' for nothing. */
export function trainWords(train: readonly Disturbance[], cleared: boolean): string {
  const parts: { name: string; times: number }[] = cleared ? [{ name: 'no write', times: 1 }] : [];
  for (const { name } of train) {
    const last = parts.at(-1);
    if (last?.name === name) last.times++;
    else parts.push({ name, times: 1 });
  }
  return parts.map(({ name, times }) => (times === 1 ? name : `${times} × ${name}`)).join(', then ');
}
