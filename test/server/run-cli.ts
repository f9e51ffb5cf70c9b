import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { CLI, ROOT } from './ensure-build.ts';

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface RunOptions {
  readonly input?: string | Buffer;
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Called with the process once it has started. */
  readonly started?: (child: ChildProcess) => void;
}

/** The command line as a process of its own. */
export function runCli(words: readonly string[], options: RunOptions = {}): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [CLI, ...words], {
      cwd: options.cwd ?? ROOT,
      env: { ...process.env, ...options.env },
    });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (chunk: Buffer) => (stdout += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
    child.on('error', reject);
    child.on('close', (status) => resolve({ status, stdout, stderr }));
    child.stdin.on('error', () => {});
    child.stdin.end(options.input ?? '');
    options.started?.(child);
  });
}
