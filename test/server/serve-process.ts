import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { CLI } from './ensure-build.ts';

export interface ServeProcess {
  readonly port: number;
  readonly address: string;
  readonly child: ChildProcess;
  /** What it wrote to standard error so far. */
  readonly stderr: () => string;
  /** Send a signal; the exit status. */
  end(signal?: NodeJS.Signals): Promise<number | null>;
}

/** `serve` as a process on a free port; resolves when it says where the page is. */
export function startServe(
  words: readonly string[] = [],
  env: Readonly<Record<string, string>> = {},
): Promise<ServeProcess> {
  const child = spawn(process.execPath, [CLI, 'serve', ...words], {
    env: { ...process.env, PORT: '0', ...env },
  });
  let stdout = '';
  let stderr = '';
  child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
  const ended = new Promise<number | null>((resolve) => child.on('exit', (status) => resolve(status)));
  return new Promise((resolve, reject) => {
    void ended.then((status) => reject(new Error(`serve ended with ${status}: ${stderr}`)));
    child.stdout.on('data', (chunk: Buffer) => {
      stdout += chunk.toString();
      const address = /^Strobewright is at (http:\/\/\S+):(\d+)\n/.exec(stdout);
      if (address === null) return;
      resolve({
        address: `${address[1]}:${address[2]}`,
        port: Number(address[2]),
        child,
        stderr: () => stderr,
        end: (signal = 'SIGTERM') => {
          child.kill(signal);
          return ended;
        },
      });
    });
  });
}
