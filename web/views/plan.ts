import { CAUTIONS, readQuantity, writeQuantity, type Design } from '../../engine/index.ts';
import { measuredIn, samplesAt, type MeasuredLine } from '../model/measured-trace.ts';
import { checkNow } from '../model/check-now.ts';
import { panSpan, zoomSpan, type TimeSpan } from '../charts/spaces.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { physicsKey } from '../model/physics-key.ts';
import { rawAt, withValueAt, type RawDesign } from '../model/pointer.ts';
import type { FirstTrace, Run } from '../model/run.ts';
import type { Picture } from '../sharing/chart-data.ts';
import { currentRaw, edit, finishGesture, PIN_LIMIT, type AppState } from '../state.ts';
import { strobeStateAt, type StrobeState } from '../model/strobe-state.ts';
import { causesSummary, certaintyText, currentsSummary, mainSummary, strobeShares } from '../model/summaries.ts';
import { causesOf, seenTrace } from '../model/traces.ts';
import { readSpan } from '../model/read-span.ts';
import { createCoreView } from '../stage/ring/core-view.ts';
import { drawCurrents } from '../stage/trace/currents.ts';
import { createCursorReadout } from '../stage/trace/cursor-readout.ts';
import { createEditor } from '../shelf/editor.ts';
import { createFigure } from '../sharing/figure.ts';
import { createKeyInputs } from '../stage/path/key-inputs.ts';
import { mainValueSpan, type Fresh, type Judged } from '../stage/trace/main-chart.ts';
import { createMainPanel, thresholdStep } from '../stage/trace/main-panel.ts';
import { createMatView } from '../stage/mat/mat-view.ts';
import { createOnce } from '../state/once.ts';
import { createPins } from '../shelf/pins.ts';
import { createPlaceFields } from '../stage/trace/place-fields.ts';
import { createPlanHead } from './plan-head.ts';
import { createPlanMore } from './plan-more.ts';
import { drawPulses, readings, readingsText } from '../stage/trace/pulses.ts';
import { createPrintSheet } from '../sharing/print-sheet.ts';
import { createReadouts } from '../stage/verdict/readouts.ts';
import { createChoice, createViewTools } from '../stage/trace/view-tools.ts';
import { drawSmallPanels } from '../stage/trace/small-panels.ts';
import { createWarnings } from '../shelf/warnings.ts';
import { createWorkLine } from '../stage/verdict/work-line.ts';

export interface PlanCallbacks {
  readonly onCancel: () => void;
  readonly onAgain: () => void;
  readonly onLink: () => void;
}

/** The planning view: inputs, read-outs, the main panel and all that stands around it. */
export function createPlanView(state: AppState, callbacks: PlanCallbacks): HTMLElement {
  const change = (turn: (raw: RawDesign) => RawDesign) => edit(state, turn(currentRaw(state)));
  const setStrobe = (time: number | undefined, gesture?: string) => {
    const step = state.judged.get()?.design.numerics.output ?? 1e-9;
    const value = time === undefined ? 'best' : writeQuantity(onStep(time, step), 's');
    edit(state, withValueAt(currentRaw(state), '/strobe/time', value), gesture);
  };
  const setThreshold = (volts: number, gesture?: string) => {
    const value = writeQuantity(onStep(volts, thresholdStep(state.judged.get()) / 10), 'V');
    edit(state, withValueAt(currentRaw(state), '/detector/threshold', value), gesture);
  };

  const head = createPlanHead(state, callbacks.onLink);
  const inputs = createKeyInputs({ onEdit: (raw) => edit(state, raw) });
  const work = createWorkLine(callbacks.onCancel, callbacks.onAgain);
  const readouts = createReadouts(work.node);
  const main = createMainPanel({
    onStrobe: setStrobe,
    onThreshold: setThreshold,
    onCursor: (which, time) =>
      state.cursors.set({ ...(state.cursors.get() ?? { a: time, b: time }), [which]: time }),
    onGestureEnd: () => finishGesture(state),
    onRemoveMeasured: () => state.measured.set(undefined),
  });
  const places = createPlaceFields({
    onStrobe: (text) => readInto(text, 's', (time) => setStrobe(time)),
    onBest: () => setStrobe(undefined),
    onThreshold: (text) => readInto(text, 'V', (volts) => setThreshold(volts)),
  });
  const cursors = createCursorReadout(state);
  /** Of the inputs as they are; of the last ones that held where they are refused. */
  const inForce = (): Design | undefined => checkNow(currentRaw(state)).design ?? state.run.get()?.design;
  const whole = (): TimeSpan => ({ from: 0, to: inForce()?.cycle.period ?? 1e-6 });
  const span = (): TimeSpan => state.span.get() ?? readSpanOf(inForce());
  const tools = createViewTools({
    onZoom: (factor) => state.span.set(zoomSpan(span(), factor, whole(), 20e-9)),
    onPan: (fraction) => state.span.set(panSpan(span(), fraction, whole())),
    onRead: () => state.span.set(undefined),
    onWhole: () => state.span.set(whole()),
    onFit: (fit) => state.fit.set(fit),
  });
  const mainFigure = createFigure({
    title: 'ONE and ZERO',
    level: 'h2',
    tools: [tools.node],
    className: 'main-panel',
  });
  put(mainFigure.body, main.node, places.node, cursors.node);
  mainFigure.body.classList.add('open');
  const reads = h('p', { class: 'reads' });
  const pulses = createFigure({ title: 'Detector output', tools: [reads] });
  const currents = createFigure({ title: 'Drive currents' });
  const bit = createChoice(
    'Stored bit',
    [
      ['1', 'ONE'],
      ['0', 'ZERO'],
    ],
    (value) => state.shownBit.set(value === '1' ? 1 : 0),
  );
  const build = createChoice(
    'Causes',
    [
      ['alone', 'each alone'],
      ['up', 'added up'],
    ],
    (value) => state.buildUp.set(value === 'up'),
  );
  const small = createFigure({ title: 'What the sense wire hears', level: 'h2', className: 'causes' });
  small.body.before(h('div', { class: 'choice-row' }, bit.node, build.node));
  small.body.className = 'small-panels';
  const shares = h('table', { class: 'shares' });
  small.node.append(
    h(
      'div',
      {
        class: 'table-scroll',
        tabindex: 0,
        role: 'region',
        'aria-label': 'What each cause adds at the strobe',
      },
      shares,
    ),
  );
  const mat = createMatView({ onEdit: change, onBit: (value) => state.shownBit.set(value) });
  const core = createCoreView({
    onInstant: (time) => state.cursors.set({ b: state.cursors.get()?.b ?? time, a: time }),
  });
  const more = createPlanMore({
    onPlace: (time, volts) => {
      setStrobe(time, 'place');
      setThreshold(volts, 'place');
      finishGesture(state);
    },
    onChange: change,
  });
  const warnings = createWarnings();
  const pins = createPins({
    onPin: () => {
      const run = state.judged.get();
      const name = String(rawAt(currentRaw(state), '/name') ?? 'untitled');
      if (run)
        state.pins.set([...state.pins.get(), { name, raw: currentRaw(state), run }].slice(0, PIN_LIMIT));
    },
    onRestore: (raw) => edit(state, raw),
    onRemove: (index) => state.pins.set(state.pins.get().filter((_, i) => i !== index)),
  });
  const sheet = createPrintSheet();
  const editor = createEditor({ onEdit: (raw) => edit(state, raw) });
  const panels = h(
    'div',
    { class: 'panels' },
    h('div', { class: 'wide-panels' }, mainFigure.node, pulses.node, currents.node),
    small.node,
  );
  const node = h(
    'div',
    { class: 'plan' },
    head.node,
    inputs.node,
    readouts.node,
    panels,
    warnings.node,
    more.node,
    h('div', { class: 'lower' }, mat.node, core.node),
    pins.node,
    editor.node,
    cautionsNode(),
    sheet.node,
  );

  function readInto(text: string, unit: 's' | 'V', use: (value: number) => void): string | undefined {
    const reading = readQuantity(text, unit);
    if (!reading.ok)
      return `This must be a ${unit === 's' ? 'time' : 'voltage'} with its unit, but it ${reading.why}.`;
    use(reading.value);
    return undefined;
  }

  const once = createOnce();

  /** What is measured of the page is asked for before anything is written, so that it is laid out once. */
  function measure() {
    return {
      em: parseFloat(getComputedStyle(document.documentElement).fontSize) / 16,
      width: mainFigure.body.clientWidth,
      smallWidth: smallPanelWidth(small.body),
      lowerWidth: mat.node.clientWidth,
    };
  }

  function render(): void {
    const { em, width, smallWidth, lowerWidth } = measure();
    const raw = currentRaw(state);
    const { design, faults } = checkNow(raw);
    const run = state.run.get();
    const judged = state.judged.get();
    once('head', [state.history.get()], () => head.update());
    once('inputs', [raw, run?.warnings], () => {
      inputs.update(raw, (pointer) => defaultText(design, pointer), faults, run?.warnings ?? []);
      editor.update(raw, faults, run?.warnings ?? []);
      more.update(raw, design);
    });
    once('pins', [state.pins.get()], () => pins.update(state.pins.get()));
    const stale = run !== undefined && (state.runKey.get() !== physicsKey(raw) || faults.length > 0);
    const judgedStale = stale || (judged !== undefined && judged.one !== run?.one);
    work.update(state.work.get(), stale || judgedStale);
    node.classList.toggle('stale', stale);
    for (const part of [readouts.node, pulses.node, shares, more.node])
      part.classList.toggle('stale', judgedStale);
    const detector = design ?? judged?.design;
    const strobe = judged && detector ? strobeOf(judged, detector) : undefined;
    const first = state.first.get();
    const fresh = run && !stale ? freshOf(run, judged) : first && design && freshFrom(first, design);
    const shown = span();
    const fit = state.fit.get();
    const look = [shown.from, shown.to, fit, width, em];
    tools.update(fit, shown, whole());
    const places = [state.cursors.get(), state.clickPlaces.get(), state.measured.get()];
    const pair = judged && strobe ? { run: judged, strobe } : undefined;
    if (fresh || pair)
      once('main', [judged, strobe, fresh?.one, fresh?.zero, ...look, ...places], () =>
        renderMain(pair, fresh, width, em),
      );
    if (!run) return readouts.update(undefined, undefined);
    once('readouts', [strobe, judged, run], () => {
      readouts.update(strobe, judged?.reason ?? run.reason);
      readouts.certainty(certaintyText(run, judged));
    });
    once('warnings', [run.warnings], () => warnings.update(run.warnings));
    once('sheet', [raw, run.design], () => sheet.update(raw, run));
    const chosenBit = state.shownBit.get();
    const at = strobe?.time ?? 0;
    bit.update(String(chosenBit));
    build.update(state.buildUp.get() ? 'up' : 'alone');
    const shared = { span: shown, em, strobe: at };
    if (pair) {
      once('judged', [judged, strobe, ...look, ...places], () =>
        renderJudged(pair.run, pair.strobe, width, em),
      );
      once('more', [judged, strobe, width, em], () => more.show(pair.run, pair.strobe, em));
    }
    once('currents', [run, chosenBit, at, ...look], () => {
      const currentsNode = drawCurrents({ ...shared, run, bit: chosenBit, width, height: 150 * em });
      put(currents.body, currentsNode);
      currents.update(() => currentsData(run, chosenBit, currentsNode));
    });
    const value = fit === 'signal' ? mainValueSpan({ judged: pair, fresh, span: shown, fit }) : undefined;
    const buildUp = state.buildUp.get();
    once('small', [run, chosenBit, buildUp, at, value?.low, value?.high, smallWidth, ...look], () => {
      const height = 132 * em;
      const parts = { ...shared, run, bit: chosenBit, buildUp, value, width: smallWidth, height };
      const pictures = drawSmallPanels(small.body, parts);
      small.update(() => causesData(run, chosenBit, at, pictures));
    });
    const instant = state.cursors.get()?.a ?? at;
    once('lower', [run, chosenBit, instant, lowerWidth, em], () => {
      // After the traces have been painted: mat and core lie further down.
      clearTimeout(lower);
      lower = setTimeout(() => {
        mat.update(run, chosenBit, instant, em);
        core.update(run, chosenBit, sampleIndex(run, instant), em);
      }, 0);
    });
  }

  let lower: ReturnType<typeof setTimeout> | undefined;
  let lastStrobe: { readonly of: readonly unknown[]; readonly strobe: StrobeState | undefined } | undefined;

  function strobeOf(
    judged: Run,
    { strobe: { time }, detector: { threshold } }: Design,
  ): StrobeState | undefined {
    const of = [judged, time, threshold];
    if (lastStrobe && of.every((item, i) => Object.is(item, lastStrobe?.of[i]))) return lastStrobe.strobe;
    const strobe = strobeStateAt(judged, time, threshold);
    lastStrobe = { of, strobe };
    return strobe;
  }

  function renderMain(judged: Judged | undefined, fresh: Fresh | undefined, width: number, em: number): void {
    const run = judged?.run;
    const measured = run && measuredIn(run, state.measured.get());
    const chart = main.update({
      judged,
      fresh,
      step: run?.design.numerics.output ?? 1e-9,
      span: span(),
      fit: state.fit.get(),
      cursors: state.cursors.get(),
      clickPlaces: state.clickPlaces.get(),
      measured,
      failed: state.judged.get()?.reason !== undefined,
      width,
      height: Math.max(260 * em, Math.min(400 * em, width * 0.62)),
      em,
    });
    if (judged && !fresh) mainFigure.update(() => mainData(judged.run, judged.strobe, chart, measured));
  }

  function renderJudged(run: Run, strobe: StrobeState, width: number, em: number): void {
    places.update(strobe, run.design.strobe.time === undefined);
    cursors.update(run, strobe);
    const pulsesNode = drawPulses({ run, strobe, span: span(), width, em });
    put(pulses.body, pulsesNode);
    put(
      reads,
      ...readings(run, strobe).map(({ bit: stored, read }) =>
        h(
          'span',
          { class: `status-${stored === read ? 'ok' : 'error'}` },
          icon(stored === read ? 'ok' : 'error'),
          `${stored ? 'ONE' : 'ZERO'} read as ${read ? 'ONE' : 'ZERO'}`,
        ),
      ),
    );
    pulses.update(() => ({
      file: 'detector-output',
      title: 'Detector output',
      summary: readingsText(run, strobe),
      design: run.design,
      pictures: [{ svg: pulsesNode }],
      columns: pulseColumns(strobe),
    }));
    put(
      shares,
      h('caption', {}, 'At the strobe'),
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          h('th', { scope: 'col' }, 'Cause'),
          h('th', { scope: 'col' }, 'worst ONE'),
          h('th', { scope: 'col' }, 'worst ZERO'),
        ),
      ),
      h(
        'tbody',
        {},
        ...strobeShares(strobe).map(([name, one, zero]) =>
          h('tr', {}, h('th', { scope: 'row' }, name), h('td', {}, one), h('td', {}, zero)),
        ),
      ),
    );
  }

  const showWork = () => void (node.dataset['work'] = state.work.get().kind);
  state.work.watch(showWork);
  showWork();
  let due = false;
  const schedule = () => {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
      due = false;
      if (!node.hidden && node.isConnected) render();
    });
  };
  for (const value of Object.values(state)) (value as { watch(watcher: () => void): void }).watch(schedule);
  new ResizeObserver(schedule).observe(panels);
  schedule();
  return node;
}

const cautionsNode = (): HTMLElement =>
  h(
    'details',
    { class: 'editor cautions' },
    h('summary', {}, 'Before you build'),
    h('ul', {}, ...CAUTIONS.map(({ title, text }) => h('li', {}, h('strong', {}, `${title}. `), text))),
  );

const readSpanOf = (design: Design | undefined): TimeSpan =>
  design ? readSpan(design) : { from: 0, to: 1e-6 };

const onStep = (value: number, step: number): number => {
  const digits = Math.max(0, Math.ceil(-Math.log10(step)) + 1);
  return Number((Math.round(value / step) * step).toFixed(Math.min(digits + 2, 20)));
};

const sampleIndex = (run: Run, time: number): number => {
  const { time: axis } = run.one;
  const end = axis.at(-1) || 1;
  return Math.min(Math.max(Math.round((time / end) * (axis.length - 1)), 0), axis.length - 1);
};

function smallPanelWidth(body: HTMLElement): number {
  const style = getComputedStyle(body);
  const columns = style.gridTemplateColumns.split(' ').length;
  return (body.clientWidth - (columns - 1) * (parseFloat(style.columnGap) || 0)) / columns;
}

/** The reads of a run that no analysis has followed yet. */
const freshOf = (run: Run, judged: Run | undefined): Fresh | undefined =>
  judged?.one === run.one && judged.ensemble ? undefined : run;

const freshFrom = ({ bit, trace }: FirstTrace, design: Design): Fresh => ({
  design,
  one: bit === 1 ? trace : undefined,
  zero: bit === 0 ? trace : undefined,
});

/** What a field left out stands for, as text with its unit, for the six inputs. */
function defaultText(design: Design | undefined, pointer: string): string {
  const value = rawAt(design, pointer);
  if (typeof value !== 'number') return value === undefined ? '' : String(value);
  if (pointer.startsWith('/mat/')) return String(value);
  if (pointer === '/temperature') return `${value} °C`;
  if (pointer === '/amplifier/bandwidth') return writeQuantity(value, 'Hz');
  return writeQuantity(value, pointer.endsWith('Amplitude') ? 'A' : 's');
}

function mainData(run: Run, strobe: StrobeState, svg: SVGSVGElement, measured: MeasuredLine | undefined) {
  const { envelope } = strobe;
  return {
    file: 'one-and-zero',
    title: 'ONE and ZERO, referred to the sense wire',
    summary: `${mainSummary(run, strobe)}${measured ? ` The measured trace ${measured.label} lies over it.` : ''}`,
    design: run.design,
    pictures: [{ svg }],
    columns: [
      { title: 'time / s', values: envelope.time },
      { title: 'least ONE / V', values: envelope.one },
      { title: 'greatest ONE / V', values: envelope.oneHigh },
      { title: 'greatest ZERO / V', values: envelope.zero },
      { title: 'least ZERO / V', values: envelope.zeroLow },
      { title: 'ONE of this design / V', values: seenTrace(run.one) },
      { title: 'ZERO of this design / V', values: seenTrace(run.zero) },
      ...(measured
        ? [
            {
              title: 'measured, as the latch sees it / V',
              values: samplesAt(envelope.time, measured.samples),
            },
          ]
        : []),
    ],
  };
}

function causesData(run: Run, bit: 0 | 1, strobe: number, pictures: readonly Picture[]) {
  const causes = causesOf(run, bit);
  const { senseVoltage, contributions } = bit === 1 ? run.one : run.zero;
  return {
    file: 'causes',
    title: 'Sense voltage by cause',
    summary: causesSummary(run, bit, strobe),
    design: run.design,
    pictures,
    columns: [
      { title: 'time / s', values: run.one.time },
      { title: 'direct coupling / V', values: causes.direct },
      { title: 'half-selected, reversible / V', values: contributions!.halfSelectedReversible },
      { title: 'half-selected, irreversible / V', values: contributions!.halfSelectedIrreversible },
      { title: 'selected core / V', values: causes.selected },
      { title: 'inhibit / V', values: causes.inhibit },
      { title: 'total / V', values: senseVoltage },
    ],
  };
}

function currentsData(run: Run, bit: 0 | 1, svg: SVGSVGElement) {
  const { x, y, inhibit } = (bit === 1 ? run.one : run.zero).currents;
  return {
    file: 'drive-currents',
    title: 'Drive currents',
    summary: currentsSummary(run, bit),
    design: run.design,
    pictures: [{ svg }],
    columns: [
      { title: 'time / s', values: run.one.time },
      { title: 'X / A', values: x },
      { title: 'Y / A', values: y },
      { title: 'inhibit / A', values: inhibit },
    ],
  };
}

function pulseColumns(strobe: StrobeState) {
  const all = [
    ...(strobe.pulses?.one ?? []).map((pulse) => ({ ...pulse, name: 'least ONE' })),
    ...(strobe.pulses?.zero ?? []).map((pulse) => ({ ...pulse, name: 'greatest ZERO' })),
  ];
  return [
    { title: 'trace', values: all.map((pulse) => pulse.name) },
    { title: 'from / s', values: all.map((pulse) => pulse.start) },
    { title: 'to / s', values: all.map((pulse) => pulse.end) },
  ];
}
