import { appendFileSync, existsSync, readFileSync } from 'node:fs';

/**
 * What was measured so far, one line each. In a file, where one is named, so that what takes long can be run in pieces: what
 * stands there is not run again, and the table is written of all of it.
 */
export class KeptLines<Line> {
  readonly all: Line[];
  private readonly file: string | undefined;

  constructor(file: string | undefined) {
    this.file = file;
    this.all =
      file === undefined || !existsSync(file)
        ? []
        : readFileSync(file, 'utf8')
            .split('\n')
            .filter((line) => line !== '')
            .map((line) => JSON.parse(line) as Line);
  }

  add(line: Line): void {
    this.all.push(line);
    if (this.file !== undefined) appendFileSync(this.file, `${JSON.stringify(line)}\n`);
  }
}
