import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import {
  readCores,
  withCore,
  withoutCore,
  writeCores,
  type OwnCore,
} from '../../engine/core/handbook/core-list.ts';
import type { Comparison } from '../../engine/fitting/comparison.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { changeWords, misfitWords } from '../../engine/fitting/misfit-words.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { createAtoms } from '../../web/state/atoms.ts';
import { changesFor, toFitCapture, type BenchCapture } from '../../web/model/bench-capture.ts';
import { BENCH_JOBS } from '../../web/bench/bench-jobs.ts';
import { addCapture, chosenCapture, MOST_ON_BENCH, removeCapture } from '../../web/bench/bench-state.ts';
import { unknownWords, withUnknownWords } from '../../web/bench/bench-words.ts';
import { createCoreStore } from '../../web/bench/core-store.ts';
import { createSavedWork } from '../../web/bench/saved-work.ts';
import { fitStatus } from '../../web/bench/fit-result.ts';
import { fitFile } from '../../web/bench/fit-file.ts';
import { INVENTED_CORE } from '../../web/bench/jig-fields.ts';
import { designCore } from '../../web/bench/jig-panel.ts';
import { deviationWords } from '../../web/bench/jig-result.ts';
import { evenly, heardByDetector, samplesAt } from '../../web/model/measured-trace.ts';
import { rivalsOf } from '../../web/bench/unknowns.ts';
import type { RawDesign } from '../../web/model/pointer.ts';
import { DEMO_CAPTURES, demoCaptureText, demoDesign, PLANTED_FACTOR } from '../demo-captures.ts';

const raw = demoDesign('tide-recorder-first-try-16x16') as RawDesign;
const nothing = (): void => {};

function take(file: string, bit: 0 | 1): BenchCapture {
  const content = readFileSync(new URL(`../../fixtures/captures/${file}`, import.meta.url), 'utf8');
  const { capture } = BENCH_JOBS.read({ content, options: {} }, nothing);
  return {
    id: 1,
    label: file,
    trace: { time: capture!.time, value: capture!.traces[0]!.value },
    observed: 'sense',
    bit,
    row: undefined,
    column: undefined,
    write: 'design',
    part: 'read',
    polarity: 'either',
    readCurrent: '',
    probeGain: 'fixed',
    bandwidth: 'enough',
    healthy: false,
  };
}

describe('the invented captures', () => {
  it('are what their generator writes, within three steps of the converter', () => {
    for (const demo of DEMO_CAPTURES) {
      const numbers = (text: string) =>
        text
          .split('\n')
          .filter((line) => /^-?\d/u.test(line))
          .map((line) => line.split(';').map(Number));
      const kept = numbers(
        readFileSync(new URL(`../../fixtures/captures/${demo.file}`, import.meta.url), 'utf8'),
      );
      const made = numbers(demoCaptureText(demo));
      expect(kept.length).toBe(made.length);
      kept.forEach(([time, value], i) => {
        expect(time).toBe(made[i]![0]);
        expect(Math.abs(value! - made[i]![1]!)).toBeLessThan(3 * (800 / 1024));
      });
    }
  });

  it('line up where their generator put the read, the same way round', () => {
    for (const [file, bit] of [
      ['demo-one.csv', 1],
      ['demo-zero.csv', 0],
    ] as const) {
      const { line, signalTime } = BENCH_JOBS.compare({ raw, capture: take(file, bit) }, nothing);
      expect(Math.abs(line.delay - -412e-9)).toBeLessThan(2e-9);
      expect(line.polarity).toBe(1);
      expect(Math.abs(line.offset - 1.3e-3)).toBeLessThan(1.5e-3);
      expect(signalTime).toBeGreaterThan(0);
    }
  });

  it('give a fit back what was planted in them, and the fitted design explains them by noise alone', () => {
    const captures = [take('demo-one.csv', 1), take('demo-zero.csv', 0)];
    const runs: number[] = [];
    const fit = BENCH_JOBS.fit(
      { raw, captures, unknowns: ['coreFlux', 'coreRate', 'mutual'], ranges: {} },
      ({ runs: n }) => runs.push(n),
    );
    const planted = {
      coreFlux: 2.9e-9,
      coreRate: 0.16,
      mutual: PLANTED_FACTOR * checkDesign(raw).wire.mutualX,
    } as const;
    for (const { name, value, interval, standardError } of fit.unknowns) {
      const truth = planted[name as keyof typeof planted];
      // Three standard errors: one capture in 370 would fall outside by chance; the seeds are fixed.
      expect(Math.abs(value - truth), name).toBeLessThan(3 * standardError);
      expect(interval.low).toBeLessThan(value);
    }
    expect(fit.outcome).toBe('converged');
    expect(fit.good).toBe(true);
    expect(fitStatus(fit).sign).toBe('ok');
    expect(runs.at(-1)).toBe(fit.runs);
    expect(JSON.parse(fitFile(fit, captures))).toMatchObject({
      outcome: 'converged',
      captures: [
        { label: 'demo-one.csv', bit: 1, samples: 560 },
        { label: 'demo-zero.csv', bit: 0 },
      ],
    });
    const again = BENCH_JOBS.compare({ raw: fit.design as RawDesign, capture: captures[0]! }, nothing);
    expect(again.comparison.verdict).toBe('noise alone');
  });

  it('with a fault have that fault ranked first, and in a healthy one nothing is seen against its own design', () => {
    const faulty = BENCH_JOBS.diagnose(
      { raw, captures: [take('demo-fault.csv', 1)], strobeAt: undefined },
      nothing,
    );
    expect(faulty.verdict, faulty.statement).toBe('fault');
    expect(faulty.named).toEqual(['weak-core']);
    const own = DEMO_CAPTURES[0]!.planted.reduce(
      (file, { path, value }) => ({ ...file, ...nested(path, value, file) }),
      raw as Record<string, unknown>,
    );
    const healthy = BENCH_JOBS.diagnose(
      { raw: own, captures: [take('demo-one.csv', 1)], strobeAt: undefined },
      nothing,
    );
    expect(['healthy', 'nothing seen']).toContain(healthy.verdict);
  });
});

/** One value at a pointer of up to three parts, beside what is there. */
function nested(path: string, value: unknown, file: Record<string, unknown>): Record<string, unknown> {
  const [head, ...rest] = path.split('/').slice(1);
  if (rest.length === 0) return { [head!]: value };
  const inner = (file[head!] ?? {}) as Record<string, unknown>;
  return { [head!]: { ...inner, ...nested(`/${rest.join('/')}`, value, inner) } };
}

describe('conditions of a capture', () => {
  const capture = take('demo-one.csv', 1);
  const designUnder = (change: Partial<BenchCapture>, of: RawDesign = raw) =>
    checkDesign(
      changesFor(of, { ...capture, ...change }).reduce<Record<string, unknown>>(
        (file, { path, value }) =>
          path.startsWith('/programme/')
            ? withLast(file, path.split('/').at(-1)!, value)
            : { ...file, [path.slice(1)]: value },
        of as Record<string, unknown>,
      ),
    );
  const withLast = (file: Record<string, unknown>, key: string, value: unknown): Record<string, unknown> => ({
    ...file,
    programme: (file['programme'] as Record<string, unknown>[]).map((cycle, i, all) =>
      i === all.length - 1 ? { ...cycle, [key]: value } : cycle,
    ),
  });

  it('become the bit, the address and the write of the cycle', () => {
    const design = designUnder({ bit: 0, row: 2, column: 3, write: 'one' });
    expect(design.selected).toMatchObject({ row: 2, column: 3, bit: 0 });
    expect(design.programme.at(-1)).toMatchObject({ row: 2, column: 3, write: 'one', read: true });
  });

  it('left as the design says change nothing but the bit', () => {
    const design = designUnder({});
    expect(design.programme).toEqual(checkDesign(raw).programme);
    expect(design.selected).toEqual({ ...checkDesign(raw).selected, bit: 1 });
  });

  it('change the last cycle of a programme and leave its history', () => {
    const history = { row: 1, column: 1, write: 'one' };
    const of = { ...raw, programme: [history, { row: 5, column: 9 }] };
    const design = designUnder({ row: 4, column: 9, write: 'none' }, of);
    expect(design.programme[0]).toMatchObject(history);
    expect(design.programme[1]).toMatchObject({ row: 4, column: 9, write: 'none' });
  });

  it('reach the fit', () => {
    const { changes, probeGain, observed } = toFitCapture(raw, {
      ...capture,
      probeGain: 'free',
      observed: 'amplifier',
    });
    expect(changes).toEqual([{ path: '/selected', value: { row: 5, column: 9, bit: 1 } }]);
    expect([probeGain, observed]).toEqual(['free', 'amplifier']);
  });
});

describe('the bench', () => {
  it('holds a few captures, the newest chosen, and chooses another when one is taken off', () => {
    const state = createAtoms({});
    const { id: _, ...capture } = take('demo-one.csv', 1);
    for (let i = 0; i < MOST_ON_BENCH + 2; i++) addCapture(state, { ...capture, label: `c${i}` });
    expect(state.captures.value).toHaveLength(MOST_ON_BENCH);
    expect(chosenCapture(state)?.label).toBe(`c${MOST_ON_BENCH + 1}`);
    removeCapture(state, state.chosenCapture.value!);
    expect(chosenCapture(state)?.label).toBe(`c${MOST_ON_BENCH}`);
    for (const { id } of state.captures.value) removeCapture(state, id);
    expect(chosenCapture(state)).toBeUndefined();
  });
});

describe('words of the bench', () => {
  const comparison = (cause: 'later' | 'selectedCore', change: number, share: number): Comparison =>
    ({ verdict: 'poor', misfitLooksLike: [{ cause, change, share }] }) as unknown as Comparison;

  it('say what the misfit looks like, and that it looks like nothing when it does', () => {
    expect(misfitWords(comparison('selectedCore', 0.1, 0.9))).toBe(
      'What is left looks most like the selected core itself: 10 % more of it would remove 90 % of the difference.',
    );
    expect(misfitWords(comparison('later', -2e-9, 0.5))).toContain('2 ns earlier would remove 50 %');
    expect(misfitWords(comparison('later', -2e-9, 0.1))).toContain('none of the causes');
    expect(changeWords({ cause: 'inhibit', change: -0.25, share: 1 })).toBe('25 % less');
  });

  it('name unknowns in words, inside sentences too', () => {
    expect(['coreFlux', 'terminationA', 'mutual', 'amplifierHighPass'].map(unknownWords)).toEqual([
      'core flux',
      'termination A',
      'mutual',
      'amplifier high pass',
    ]);
    expect(withUnknownWords('mutualX (up) with mutual (down)', ['mutual', 'mutualX'])).toBe(
      'mutual X (up) with mutual (down)',
    );
  });

  it('never call a fit found that did not converge or leaves more than noise', () => {
    const fit = (outcome: string, good: boolean) =>
      fitStatus({ outcome, good, runs: 9 } as unknown as FitResult);
    expect(fit('converged', true).sign).toBe('ok');
    expect(fit('converged', false)).toMatchObject({ sign: 'warning' });
    expect(fit('stalled', true).text).toContain('do not take the values for found');
    expect(fit('singular', true).sign).toBe('error');
  });

  it('have no minus zero', () => {
    expect(deviationWords(-1e-9)).toBe('0.00 %');
    expect(deviationWords(-0.0123)).toBe('−1.23 %');
  });
});

describe('unknowns of a fit', () => {
  it('that move one field are rivals, others are not', () => {
    expect(rivalsOf('mutual', ['mutualX', 'coreFlux', 'mutual'])).toEqual(['mutualX']);
    expect(rivalsOf('coreFlux', ['coreRate', 'mutual'])).toEqual([]);
  });
});

describe('the measured trace in the main panel', () => {
  const design = checkDesign(raw);
  const run = simulate(design, { estimateError: false, contributions: false, until: 1e-6 });

  it('uneven samples become even ones on the same straight lines', () => {
    const samples = evenly(Float64Array.of(0, 1, 1.5, 4), Float64Array.of(0, 2, 3, 8));
    expect(samples.values.length).toBe(4);
    Array.from(samples.values).forEach((value, i) =>
      expect(value).toBeCloseTo(2 * (samples.start + i * samples.step), 9),
    );
    expect(evenly(Float64Array.of(3), Float64Array.of(7)).values[0]).toBe(7);
  });

  it('is heard as the detector hears it: the sense voltage of a run gives that run’s amplifier output', () => {
    const trace = { label: 'x', time: run.time, value: run.senseVoltage, observed: 'sense' as const };
    const { values } = heardByDetector(
      { ...design, amplifier: { ...design.amplifier, commonModeRejection: Infinity } },
      trace,
    );
    const { gain, divider } = design.amplifier;
    const output = simulate(
      { ...design, amplifier: { ...design.amplifier, commonModeRejection: Infinity } },
      { estimateError: false, until: 1e-6 },
    ).amplifierOutput;
    for (let i = 0; i < values.length; i += 50)
      expect(values[i]).toBeCloseTo(output[i]! / (gain * divider), 6);
  });

  it('lies over the envelope: the trace of a run that is its own worst case is the least ONE, delay included', () => {
    const small = checkDesign({
      ...(demoDesign('classroom-board-first-try-4x4') as RawDesign),
      detector: { threshold: '15 mV', delay: '20 ns' },
    });
    const window = strobeWindow(small, { cases: 'quick' });
    const own = { ...small, selected: { ...small.selected, bit: 1 as const } };
    const { time, senseVoltage } = simulate(own, { estimateError: false, until: 1e-6 });
    const heard = heardByDetector(small, { label: 'x', time, value: senseVoltage, observed: 'sense' });
    const { envelope, inForce } = window;
    const here = Math.round(inForce.time / small.numerics.output);
    const [value] = samplesAt(Float64Array.of(envelope.time[here]!), heard);
    expect(value).toBeGreaterThanOrEqual(envelope.one[here]! - 1e-6);
    expect(value).toBeLessThanOrEqual(envelope.oneHigh[here]! + 1e-6);
    expect(heard.start).toBeCloseTo(time[0]! + 20e-9, 15);
  });

  it('of the amplifier’s output is only divided by its gain', () => {
    const trace = { label: 'x', time: run.time, value: run.amplifierOutput, observed: 'amplifier' as const };
    const { values } = heardByDetector(design, trace);
    const { gain, divider } = design.amplifier;
    expect(values[200]).toBeCloseTo(run.amplifierOutput[200]! / (gain * divider), 12);
  });

  it('has no value where nothing was captured', () => {
    const samples = { start: 1, step: 1, values: [10, 20] };
    expect(Array.from(samplesAt(Float64Array.of(0, 1, 1.5, 2, 3), samples))).toEqual([NaN, 10, 15, 20, NaN]);
  });
});

describe('my cores', () => {
  const core = (name: string): OwnCore => ({ name, handbook: INVENTED_CORE });

  it('keep the newest first and one of each name, through a file and back', () => {
    const cores = withCore(withCore(withCore([], core('a')), core('b')), core('a'));
    expect(cores.map(({ name }) => name)).toEqual(['a', 'b']);
    expect(readCores(writeCores(cores))).toEqual(cores);
    expect(withoutCore(cores, 'a').map(({ name }) => name)).toEqual(['b']);
  });

  it('take in one handbook file, such as the command line writes of a core on a jig', () => {
    const file = JSON.stringify({ name: 'jig 3', ...INVENTED_CORE });
    expect(readCores(file)).toEqual([{ name: 'jig 3', handbook: JSON.parse(file) }]);
  });

  it('refuse a file that is no list of cores', () => {
    for (const text of ['', '[]', '{"cores":{}}', '{"cores":[{"name":""}]}', 'null'])
      expect(readCores(text)).toBeUndefined();
  });

  it('say so when the browser keeps nothing, and lose nothing of what is there', () => {
    const forbidden = createCoreStore(() => {
      throw new DOMException('denied');
    });
    expect(forbidden.load()).toEqual([]);
    expect(forbidden.save([core('a')])).toBe(false);
    let kept: string | null = null;
    const store = createCoreStore(() => ({ getItem: () => kept, setItem: (_, text) => void (kept = text) }));
    expect(store.save([core('a')])).toBe(true);
    expect(store.load()).toEqual([core('a')]);
  });

  it('make a design whose core answers as measured', () => {
    const report = BENCH_JOBS.core({ handbook: INVENTED_CORE }, nothing);
    expect(report.achieved.peakOne).toBeCloseTo(52e-3, 5);
    const design = checkDesign({ ...raw, core: designCore(core('a')) });
    expect(design.core.parameters.remanentFlux).toBeCloseTo(report.parameters.remanentFlux, 15);
    expect(design.core.name).toBe('a');
  });
});

describe('work kept by the server', () => {
  const asked: { url: string; how: RequestInit | undefined }[] = [];
  const work = (reply: () => Response) =>
    createSavedWork('http://host/page/', (url, how) => {
      asked.push({ url: String(url), how });
      return Promise.resolve(reply());
    });
  const last = () => asked.at(-1)!;

  it('is asked for beside the page, whatever the name', async () => {
    const saved = work(() => Response.json({ version: 4 }));
    expect(await saved.save('captures', 'a/b ?.csv', 'x')).toBe(4);
    expect(last().url).toBe('http://host/page/api/v1/captures/a%2Fb%20%3F.csv');
    expect(last().how).toMatchObject({ method: 'PUT', headers: { 'Content-Type': 'text/csv' } });
    await saved.read('designs', 'Mole', 3);
    expect(last().url).toBe('http://host/page/api/v1/designs/saved/Mole/versions/3');
  });

  it('tells the server’s own sentence when it refuses', async () => {
    const saved = work(() => Response.json({ message: 'At most 1000 names.' }, { status: 422 }));
    await expect(saved.save('designs', 'a', '{}')).rejects.toThrow('At most 1000 names.');
  });

  it('says that there is no server when nobody, a stranger or a host of files answers', async () => {
    const nobody = createSavedWork('http://host/', () => Promise.reject(new TypeError('refused')));
    const stranger = work(() => new Response('Not here', { status: 404 }));
    const files = work(() => new Response('<!doctype html>'));
    for (const saved of [nobody, stranger, files])
      await expect(saved.list('designs')).rejects.toThrow('this page was opened without the server');
  });
});
