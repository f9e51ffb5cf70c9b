import { mkdir } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Proposals } from '../../engine/propose/answer.ts';
import { proposalFileName } from '../../engine/propose/build-words.ts';
import { soFarWords } from '../../engine/propose/answer-words.ts';
import { proposalsJson } from '../../engine/propose/proposals-json.ts';
import { readProposalNeeds } from '../../engine/propose/read-proposal-needs.ts';
import { codeOf } from '../disk.ts';
import { LIMITS } from '../limits.ts';
import { priceProposals } from '../price.ts';
import { proposalsText } from '../print/proposals-text.ts';
import { searchProposals } from '../proposal-job.ts';
import { createWorkerPool } from '../worker-pool.ts';
import { readJsonInput } from './files.ts';
import { showShare } from './show-share.ts';
import type { Terminal } from './terminal.ts';
import { wholeNumber } from './whole-number.ts';
import { refuseWrite, writeOutput } from './write-output.ts';

export interface ProposeFlags {
  readonly format: 'text' | 'json';
  readonly output?: string;
  readonly save?: string;
  readonly workers?: string;
}

const INTERRUPTED = 130;
const NOT_MET = 3;

/** `propose`: builds from needs, searched on all workers; Ctrl-C keeps the best found so far, marked as stopped. */
export async function proposeCommand(path: string, flags: ProposeFlags, terminal: Terminal): Promise<number> {
  const needs = readProposalNeeds(await readJsonInput(path, 'Needs', terminal));
  // What it costs is the business of whoever owns the machine; its memory ends all the same.
  priceProposals(needs, { ...LIMITS, jobWork: Infinity });
  const threads = wholeNumber('--workers', flags.workers ?? String(availableParallelism()), 1, 64);
  const pool = createWorkerPool({ threads, queue: Infinity, timeLimit: LIMITS.jobTime, grace: LIMITS.grace });
  const stop = new AbortController();
  const interrupt = (): void => (stop.signal.aborted ? process.exit(INTERRUPTED) : stop.abort());
  process.on('SIGINT', interrupt);
  const shown = showShare('search', terminal.errors);
  try {
    let known = '';
    const answer = await searchProposals(
      needs,
      {
        threads,
        run: (task, progress) => pool.run(task, { signal: stop.signal, progress }),
        stopped: () => stop.signal.aborted,
        report: (done, planned, parts = 0) => shown.update((done + parts) / planned, known),
      },
      (answer) => {
        known = soFarWords(answer);
      },
    );
    shown.stop();
    await writeOutput(
      flags.format === 'json' ? proposalsJson(needs, answer) : proposalsText(needs, answer),
      flags.output,
      terminal,
    );
    if (flags.save !== undefined) await saveDesigns(answer, flags.save, terminal);
    if (stop.signal.aborted) {
      terminal.errors.write('Stopped: the best that was found until then is told, and marked so.\n');
      return INTERRUPTED;
    }
    return answer.met ? 0 : NOT_MET;
  } finally {
    shown.stop();
    process.off('SIGINT', interrupt);
    await pool.close();
  }
}

/** The proposed designs as files of a folder, numbered as they are told; where there are none, the nearest as number 0. */
async function saveDesigns(
  { proposals, nearest }: Proposals,
  folder: string,
  terminal: Terminal,
): Promise<void> {
  await mkdir(folder, { recursive: true }).catch((error: unknown) => {
    throw refuseWrite(folder, codeOf(error));
  });
  const builds = nearest === null ? proposals : [nearest];
  for (const [i, { combination, design }] of builds.entries()) {
    const name = proposalFileName(nearest === null ? i + 1 : 0, combination);
    await writeOutput(`${JSON.stringify(design, null, 2)}\n`, join(folder, name), terminal);
    terminal.errors.write(`Written: ${join(folder, name)}\n`);
  }
}
