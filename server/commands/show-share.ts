import { SingleBar } from 'cli-progress';
import type { Terminal } from './terminal.ts';

/** ms before anything is shown, and between the lines of a log. */
const PATIENCE = 2000;
const LINE_EVERY = 5000;

export interface ShownShare {
  /** The share done, 0..1, and what is known by then, in a few words. */
  readonly update: (share: number, note?: string) => void;
  readonly stop: () => void;
}

/** How far something is, on standard error: a bar where somebody looks on; in a log a line now and then. */
export function showShare(what: string, errors: Terminal['errors']): ShownShare {
  const began = Date.now();
  let now = 0;
  let note = '';
  let bar: SingleBar | undefined;
  let lines: NodeJS.Timeout | undefined;
  const left = (): string => {
    const seconds = Math.ceil(((Date.now() - began) * (1 - now)) / now / 1000);
    return now === 0 ? '' : `, about ${seconds} s left`;
  };
  const said = (): string => (note === '' ? '' : `; ${note}`);
  const line = (): void =>
    void errors.write(`About ${(100 * now).toFixed(1)} % of the ${what}${left()}${said()}\n`);
  const start = setTimeout(() => {
    if (!errors.isTTY) {
      line();
      lines = setInterval(line, LINE_EVERY);
      return;
    }
    const format = `{bar} about {percentage} % of the ${what}{left}{said}`;
    bar = new SingleBar({ stream: errors, format, clearOnComplete: true });
    bar.start(1, now, { left: left(), said: said() });
  }, PATIENCE);
  return {
    update: (share, words = note) => {
      now = share;
      note = words;
      bar?.update(share, { left: left(), said: said() });
    },
    stop: () => {
      clearTimeout(start);
      clearInterval(lines);
      bar?.stop();
    },
  };
}
