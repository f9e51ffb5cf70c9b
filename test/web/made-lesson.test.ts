import { hashOf } from '../../web/lessons/made/hash.ts';
import { COVERS, MOVABLES } from '../../web/state/lesson-board.ts';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../engine/numerics/random.ts';
import { pack, unpack } from '../../web/state/packing.ts';
import {
  MOST_PLACES,
  readCode,
  threeDigits,
  TICKETS,
  TOP_LEVEL,
  writeCode,
  type AnswerShape,
  type AnswerSheet,
  type Coded,
} from '../../web/lessons/made/answer-code.ts';
import type { OwnTruth } from '../../web/lessons/made/evaluated.ts';
import { answerText, scoreText, truthText } from '../../web/lessons/made/say.ts';
import { MOST, type MadeLesson, type MadeStep, type OwnStep } from '../../web/lessons/made/lesson.ts';
import { courseIds, lessonFile, readLesson } from '../../web/lessons/made/read-lesson.ts';
import { readCodes } from '../../web/lessons/made/tally.ts';
import { valueIndex, withVariant } from '../../web/lessons/made/variants.ts';
import { board } from '../../web/lessons/course/bench.ts';
import { readNumbers } from '../../web/lessons/sheets/numbers.ts';
import { tallyCsv } from '../../web/lessons/tally/tally-csv.ts';
import { de } from '../../web/lessons/words/de/de.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import type { Words } from '../../web/lessons/words/shape.ts';
import { ownLesson } from './own-lesson.ts';

const SHAPES: readonly AnswerShape[] = [
  { kind: 'choose' },
  { kind: 'number' },
  { kind: 'index' },
  { kind: 'levels', count: 9 },
];

const answered = (shape: AnswerShape): fc.Arbitrary<Coded | undefined> => {
  const given = {
    choose: fc.nat(MOST.choices - 1).map((chosen) => ({ kind: 'choose', chosen }) as const),
    number: fc.double({ min: -1e15, max: 1e15, noNaN: true }).map((value) => {
      const rounded = threeDigits(value);
      return { kind: 'number', value: Math.abs(rounded) < 1e-12 ? 0 : rounded } as const;
    }),
    index: fc.nat(MOST_PLACES - 1).map((index) => ({ kind: 'index', index }) as const),
    levels: fc
      .array(fc.nat(TOP_LEVEL), { minLength: 9, maxLength: 9 })
      .map((levels) => ({ kind: 'levels', levels }) as const),
  }[shape.kind];
  return fc.option(given as fc.Arbitrary<Coded>, { nil: undefined });
};

const sheets: fc.Arbitrary<AnswerSheet> = fc.record({
  student: fc.nat(999),
  ticket: fc.nat(TICKETS - 1),
  answers: fc.tuple(...SHAPES.map(answered)),
});

describe('an answer code', () => {
  it('gives back what was answered, as written, in small letters, without blanks, or with O for 0', () => {
    fc.assert(
      fc.property(sheets, fc.nat(2 ** 20 - 1), (sheet, lesson) => {
        const code = writeCode(lesson, SHAPES, sheet);
        expect(readCode(lesson, SHAPES, code)).toEqual({ kind: 'read', sheet });
        const careless = code.toLowerCase().replaceAll(' ', '-').replaceAll('0', 'o').replaceAll('1', 'l');
        expect(readCode(lesson, SHAPES, careless)).toEqual({ kind: 'read', sheet });
      }),
    );
  });

  it('of a usual lesson has thirty to sixty signs', () => {
    const code = writeCode(1, SHAPES, { student: 1, ticket: 5, answers: [] });
    expect(code.replaceAll(' ', '').length).toBeGreaterThanOrEqual(30);
    expect(code.replaceAll(' ', '').length).toBeLessThanOrEqual(60);
  });

  // Derived: a cyclic check of 15 bits finds every error within 15 bits in a row, three letters here.
  it('is found damaged by any one letter changed, any two neighbours changed round, any letter left out at its end', () => {
    const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
    const code = writeCode(77, SHAPES, { student: 3, ticket: 9, answers: [{ kind: 'choose', chosen: 2 }] });
    const plain = code.replaceAll(' ', '');
    let tried = 0;
    for (let i = 0; i < plain.length; i++) {
      for (const letter of letters) {
        if (letter === plain[i]) continue;
        expect(readCode(77, SHAPES, plain.slice(0, i) + letter + plain.slice(i + 1)).kind).toBe('damaged');
        tried++;
      }
      if (i === 0 || plain[i] === plain[i - 1]) continue;
      const turned = plain.slice(0, i - 1) + plain[i]! + plain[i - 1]! + plain.slice(i + 1);
      expect(readCode(77, SHAPES, turned).kind).toBe('damaged');
    }
    expect(tried).toBe(31 * plain.length);
    for (const bad of ['', '?', 'hello', plain.slice(0, -1), plain.slice(0, 20), `${plain}A`])
      expect(readCode(77, SHAPES, bad).kind, bad).not.toBe('read');
  });

  it('of another lesson is told as such', () => {
    const code = writeCode(hashOf('one'), SHAPES, { student: 0, ticket: 1, answers: [] });
    expect(readCode(hashOf('two'), SHAPES, code)).toEqual({ kind: 'otherLesson' });
    expect(readCode(hashOf('one'), SHAPES.slice(0, 3), code)).toEqual({ kind: 'otherLesson' });
  });
});

describe('what is said of a question of one’s own', () => {
  const said = (course: Words): string[] => {
    const w = { ...course.made, course };
    const [place, number] = ownLesson.steps as [OwnStep, OwnStep];
    const scan: OwnTruth = {
      kind: 'scan',
      at: Float64Array.of(1.5e-9, 2.5e-9),
      got: Float64Array.of(1.25e-3, Number.NaN),
      best: 0,
      sense: 'atLeast',
      target: 8e-3,
    };
    const so: OwnTruth = { kind: 'number', value: 39.7e-3 };
    return [
      truthText(w, place.ask, scan),
      truthText(w, number.ask, so),
      answerText(w, number.ask, so, { kind: 'number', value: 2.5 }),
      scoreText(w, number.ask, so, { kind: 'number', value: 2.5 }, { right: false, fault: 'low' }),
    ];
  };

  it('has a decimal point in English and a comma in German', () => {
    expect(said(en)).toEqual(['1.5 ns: 1.25 mV', '39.7 mV', '2.5 mV', '2.5 mV said, 39.7 mV is so']);
    expect(said(de)).toEqual([
      '1,5 ns: 1,25 mV',
      '39,7 mV',
      '2,5 mV',
      expect.stringMatching(/2,5 mV.*39,7 mV/),
    ]);
  });
});

describe('thirty codes pasted together', () => {
  const draw = randomStream(20261129);
  const pick = (below: number): number => Math.floor(draw() * below);
  const sheetOf = (ticket: number): AnswerSheet => ({
    student: pick(1000),
    ticket,
    answers: [
      { kind: 'choose', chosen: pick(4) },
      { kind: 'number', value: threeDigits(draw() * 100) },
      pick(3) === 0 ? undefined : { kind: 'index', index: pick(1000) },
      { kind: 'levels', levels: Array.from({ length: 9 }, () => pick(TOP_LEVEL + 1)) },
    ],
  });
  const good = Array.from({ length: 24 }, (_, k) => sheetOf(1000 + k));
  const lines = good.map((sheet) => writeCode(5, SHAPES, sheet));
  // Two damaged, two of another lesson, one given in twice, and a second thought of the student of the first code.
  const thought = sheetOf(1000);
  lines.push(
    lines[3]!.replace(/.$/u, (last) => (last === 'A' ? 'B' : 'A')),
    lines[4]!.slice(0, 30),
    writeCode(6, SHAPES, good[5]!),
    writeCode(7, SHAPES, good[6]!),
    lines[7]!.toLowerCase(),
    writeCode(5, SHAPES, thought),
  );

  it('are told good, damaged, of another lesson, given in twice and replaced, line by line', () => {
    expect(lines).toHaveLength(30);
    const read = readCodes(5, SHAPES, lines.join('\n'));
    const standings = read.map(({ standing }) => standing);
    expect(standings.slice(1, 24)).toEqual(Array.from({ length: 23 }, () => 'counts'));
    expect(standings[0]).toBe('replaced');
    expect(standings.slice(24)).toEqual([
      'damaged',
      'damaged',
      'otherLesson',
      'otherLesson',
      'again',
      'counts',
    ]);
    const counted = read.filter(({ standing }) => standing === 'counts').map(({ sheet }) => sheet);
    expect(counted).toEqual([...good.slice(1), thought]);
  });

  it('are counted the same when the first is given in once more after its second thought', () => {
    const read = readCodes(5, SHAPES, [lines[0], lines[29], lines[0]].join(';'));
    expect(read.map(({ standing }) => standing)).toEqual(['replaced', 'counts', 'again']);
  });
});

describe('variants', () => {
  const varied: MadeStep = {
    ...(ownLesson.steps[0] as Extract<MadeStep, { board: unknown }>),
    question: 'What does a drive of {value} give?',
    varied: {
      pointers: ['/drive/x/readAmplitude', '/drive/y/readAmplitude'],
      values: ['350 mA', '370 mA', '390 mA'],
    },
  };

  it('differ from neighbour to neighbour in every class, and use every value', () => {
    fc.assert(
      fc.property(fc.nat(MOST.seed), fc.nat(997), (seed, student) => {
        const lesson = { seed, steps: [varied, varied] };
        for (const place of [0, 1]) {
          const three = [0, 1, 2].map((k) => valueIndex(lesson, place, student + k));
          expect(new Set(three).size).toBe(3);
        }
      }),
    );
    const starts = Array.from({ length: 200 }, (_, seed) => valueIndex({ seed, steps: [varied] }, 0, 0));
    expect(new Set(starts).size).toBe(3);
  });

  it('put their value into the board and into the words, and leave the step as it was', () => {
    const step = withVariant(varied, 2);
    expect(step.question).toBe('What does a drive of 390 mA give?');
    expect(step.board['drive']).toEqual({ x: { readAmplitude: '390 mA' }, y: { readAmplitude: '390 mA' } });
    expect(varied.board).toBe(ownLesson.steps[0] && (ownLesson.steps[0] as { board: unknown }).board);
    expect(withVariant(ownLesson.steps[0] as typeof varied, 5)).toBe(ownLesson.steps[0]);
  });
});

const texts = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 });
const quantities = (unit: string): fc.Arbitrary<string> =>
  fc.integer({ min: 1, max: 900 }).map((value) => `${value} ${unit}`);
const wrong = { tooLow: texts, tooHigh: texts };
const measures = fc.constantFrom('bell', 'left', 'zeroPeak' as const);
const asks = fc.oneof(
  fc.record({
    kind: fc.constant('choose' as const),
    measure: measures,
    choices: fc.array(fc.record({ text: texts, whyNot: texts, from: quantities('mV') }), {
      minLength: 2,
      maxLength: 8,
    }),
  }),
  fc.record({
    kind: fc.constant('choose' as const),
    right: fc.nat(1),
    choices: fc.array(fc.record({ text: texts, whyNot: texts }), { minLength: 2, maxLength: 8 }),
  }),
  fc.record({ kind: fc.constant('number' as const), measure: measures, within: fc.nat(100), ...wrong }),
  fc.record({
    kind: fc.constant('place' as const),
    moved: fc.constantFrom('strobe', 'threshold' as const),
    least: quantities('mV'),
    ...wrong,
  }),
  fc.record({
    kind: fc.constant('set' as const),
    name: texts,
    pointers: fc.constant(['/drive/x/readAmplitude']),
    unit: fc.constant('A' as const),
    from: fc.constant('300 mA'),
    to: fc.integer({ min: 301, max: 450 }).map((value) => `${value} mA`),
    places: fc.integer({ min: 2, max: 41 }),
    measure: measures,
    sense: fc.constantFrom('atLeast', 'atMost' as const),
    target: quantities('mV'),
    ...wrong,
  }),
  fc.record({
    kind: fc.constant('draw' as const),
    curve: fc.constantFrom('one', 'zero', 'selected', 'half' as const),
    at: fc
      .uniqueArray(fc.nat(900), { minLength: 2, maxLength: 12 })
      .map((points) => [...points].sort((a, b) => a - b).map((ns) => `${ns} ns`)),
    most: quantities('mV'),
    within: quantities('mV'),
    whyNot: fc.record({ early: texts, high: texts }, { requiredKeys: [] }),
  }),
);
const steps: fc.Arbitrary<MadeStep> = fc.oneof(
  fc.constantFrom(...courseIds()).map((course) => ({ course })),
  fc.record(
    {
      title: texts,
      text: texts,
      question: texts,
      meaning: texts,
      board: fc.constant(board),
      ask: asks,
      covered: fc.subarray([...COVERS]),
      movable: fc.subarray([...MOVABLES]),
      varied: fc.constant({ pointers: ['/mat/pitch'], values: ['2 mm', '3 mm'] }),
    },
    { requiredKeys: ['title', 'text', 'question', 'meaning', 'board', 'ask', 'covered', 'movable'] },
  ),
) as fc.Arbitrary<MadeStep>;
const lessons: fc.Arbitrary<MadeLesson> = fc.record({
  title: texts,
  seed: fc.nat(MOST.seed),
  steps: fc.array(steps, { minLength: 1, maxLength: 6 }),
});

describe('a lesson saved', () => {
  it('and opened again, from its file or its link, has lost nothing', async () => {
    await fc.assert(
      fc.asyncProperty(lessons, async (lesson) => {
        const file = JSON.stringify(lessonFile(lesson));
        expect(readLesson(JSON.parse(file))).toEqual(lesson);
        expect(readLesson(await unpack(await pack(lessonFile(lesson))))).toEqual(lesson);
      }),
      { numRuns: 40 },
    );
  });

  const plain = JSON.parse(JSON.stringify(lessonFile(ownLesson))) as Record<string, unknown>;
  const own = (plain['steps'] as Record<string, unknown>[])[0]!;
  const withStep = (change: object): object => ({ ...plain, steps: [{ ...own, ...change }] });
  it.each([
    ['no lesson', { name: 'a design' }, /^This is not a lesson/],
    ['a list', [], /^This is not a lesson/],
    ['a later version', { ...plain, version: 2 }, /format version 1 .* this one is of version 2/],
    ['no steps', { ...plain, steps: [] }, /^Steps must be a list of 1 to 24, but it is \[\]/],
    ['a stray field', { ...plain, colour: 'red' }, /has a field "colour" that is not known/],
    ['an unknown course step', { ...plain, steps: [{ course: 'loops' }] }, /^Step 1, course must be one of/],
    [
      'a board that does not hold',
      withStep({ board: { mat: { rows: -1 } } }),
      /^Step 1, board does not hold: /,
    ],
    [
      'no title',
      withStep({ title: '' }),
      /^Step 1, title must be a text of 1 to 200 characters, but it is ""/,
    ],
    [
      'a unit missing',
      withStep({ ask: { kind: 'place', moved: 'strobe', least: '8', tooLow: '', tooHigh: '' } }),
      /^Step 1, ask, least must be a voltage with its unit, such as 8 mV, but it is "8"/,
    ],
    [
      'a value that the board refuses',
      withStep({ varied: { pointers: ['/mat/pitch'], values: ['3 mm', '3 kg'] } }),
      /^Step 1, varied, values, 2 does not hold: /,
    ],
    [
      'an input that is not there',
      withStep({ varied: { pointers: ['/mat'], values: ['1', '2'] } }),
      /must be the place of one input/,
    ],
  ])('with %s is refused in one sentence', (_, value, sentence) => {
    expect(() => readLesson(value)).toThrow(sentence);
    try {
      readLesson(value);
    } catch (error) {
      expect((error as Error).message).toMatch(/^[^\n]+[.;][^\n]*$/u);
    }
  });
});

describe('numbers of the class on sheets', () => {
  it('are one, or from low to high, and no more than are printed at once', () => {
    expect(readNumbers('7', 999)).toEqual([7]);
    expect(readNumbers(' 1 to 3 ', 999)).toEqual([1, 2, 3]);
    expect(readNumbers('2–4', 999)).toEqual([2, 3, 4]);
    for (const bad of ['', '0', '3 to 1', '1 to 100', 'all', '1000', '1, 2'])
      expect(readNumbers(bad, 999), bad).toBeUndefined();
  });
});

describe('a table of the answers', () => {
  it('has a row for each answer, quotes what must be, and names nobody', () => {
    const answer = { student: 1, number: 12, right: true, text: 'yes, "so"', value: '370 mA' };
    const coded = { kind: 'choose', chosen: 0 } as const;
    const [step] = ownLesson.steps as [MadeStep];
    const csv = tallyCsv('A lesson', [
      { step, title: 'First', question: 'Which?', answers: [{ ...answer, coded }] },
    ]);
    expect(csv.split('\n').slice(2)).toEqual([
      'student,number,step,title,question,value,answer,right',
      '1,12,1,First,Which?,370 mA,"yes, ""so""",1',
      '',
    ]);
  });
});
