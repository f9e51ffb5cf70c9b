/** What is wrong with a lesson, in one sentence. */
export class LessonError extends Error {
  override readonly name = 'LessonError';
}

/** Characters of what was received that a sentence shows. */
const SHOWN = 60;

/** A value of unknown shape with its place in the file; each way of reading it throws one sentence where it does not fit. */
export class Reader {
  readonly value: unknown;
  private readonly path: string;
  constructor(value: unknown, path: string) {
    this.value = value;
    this.path = path;
  }

  /** "Step 2, ask, within" */
  get name(): string {
    const words = this.path
      .split('/')
      .filter(Boolean)
      .map((part) => (/^\d+$/u.test(part) ? String(Number(part) + 1) : part))
      .join(', ')
      .replace(/^steps, (\d+)/u, 'step $1');
    return words === '' ? 'The lesson' : words.charAt(0).toUpperCase() + words.slice(1);
  }

  field(name: string): Reader {
    const own = isRecord(this.value) && Object.hasOwn(this.value, name);
    return new Reader(
      own ? (this.value as Record<string, unknown>)[name] : undefined,
      `${this.path}/${name}`,
    );
  }

  item(index: number): Reader {
    return new Reader(Array.isArray(this.value) ? this.value[index] : undefined, `${this.path}/${index}`);
  }

  /** `must` completes "Step 2, ask …". */
  refuse(must: string): LessonError {
    const text = this.value === undefined ? 'is missing' : `is ${shorten(JSON.stringify(this.value))}`;
    return new LessonError(`${this.name} ${must}, but it ${text}; mend it in the file or open another.`);
  }

  only(names: readonly string[]): void {
    if (!isRecord(this.value)) throw this.refuse('must be an object of named fields');
    const stray = Object.keys(this.value).find((name) => !names.includes(name));
    if (stray !== undefined)
      throw new LessonError(
        `${this.name} has a field ${JSON.stringify(shorten(stray))} that is not known here; its fields are ${names.join(', ')}.`,
      );
  }

  object(): Readonly<Record<string, unknown>> {
    if (!isRecord(this.value)) throw this.refuse('must be an object of named fields');
    return this.value;
  }

  text(least: number, most: number): string {
    if (typeof this.value !== 'string' || this.value.length < least || this.value.length > most)
      throw this.refuse(`must be a text of ${least} to ${most} characters`);
    return this.value;
  }

  whole(least: number, most: number): number {
    if (!Number.isInteger(this.value) || Number(this.value) < least || Number(this.value) > most)
      throw this.refuse(`must be a whole number from ${least} to ${most}`);
    return this.value as number;
  }

  number(least: number, most: number): number {
    if (typeof this.value !== 'number' || !(this.value >= least && this.value <= most))
      throw this.refuse(`must be a number from ${least} to ${most}`);
    return this.value;
  }

  oneOf<T extends string>(words: readonly T[]): T {
    const found = words.find((word) => word === this.value);
    if (found === undefined) throw this.refuse(`must be one of ${words.join(', ')}`);
    return found;
  }

  list<T>(least: number, most: number, read: (item: Reader) => T): readonly T[] {
    const { value } = this;
    if (!Array.isArray(value) || value.length < least || value.length > most)
      throw this.refuse(`must be a list of ${least} to ${most}`);
    return value.map((_, k) => read(this.item(k)));
  }
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const shorten = (text: string): string => (text.length > SHOWN ? `${text.slice(0, SHOWN - 1)}…` : text);
