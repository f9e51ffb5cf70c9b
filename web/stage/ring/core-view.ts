import { html, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { atTemperature } from '../../../engine/core/model.ts';
import { createLoopChart } from '../../charts/loop-chart.ts';
import type { TimeSpan } from '../../charts/spaces.ts';
import type { Run } from '../../model/run.ts';
import { coreSummary } from '../../model/summaries.ts';
import type { Behind } from '../../sharing/behind.ts';
import { keepLast } from '../../ui/last.ts';
import { createFluxStrip } from './flux-strip.ts';
import { ringChart } from './ring-chart.ts';

export interface CoreViewOptions {
  readonly run: Run;
  readonly bit: 0 | 1;
  /** The sample shown. */
  readonly at: number;
  readonly instant: number;
  readonly span: TimeSpan;
  readonly width: number;
  /** px of all of it, where the window gives no more. */
  readonly height: number;
  readonly em: number;
  readonly behind: Behind;
}

/** px of head, words and flux under and over ring and loop, and the least that these take. */
const BESIDE = 118;
const LEAST = 96;
/** px from which ring and loop are drawn larger: where the core has the height of the stage. */
const TALL = 520;
/** px beside the loop for the ring. */
const RING = 112;

/** What the selected core does at an instant, as figures: how far it has turned, what it gives, the ampere-turns it sees. */
export function coreFigures(run: Run, bit: 0 | 1, at: number) {
  const { design } = run;
  const { selected, contributions } = bit === 1 ? run.one : run.zero;
  const core = atTemperature(design.core.parameters, design.temperature);
  const start = selected.state[0] ?? 0;
  const state = selected.state[at] ?? 0;
  const most = selected.drive.reduce((size, value) => Math.max(size, Math.abs(value)), 1e-12);
  return {
    /** Parts of the way from one remanent state to the other. */
    turned: Math.min(1, Math.abs(state - start) / (2 * core.remanentFlux)),
    held: state / core.remanentFlux,
    /** V at the wire, signed. */
    gives: contributions?.selectedCore[at] ?? 0,
    drive: (selected.drive[at] ?? 0) / most,
  };
}

/** The selected core: the ring with its flux, its loop and the path over it, and its flux over the span. */
export function createCoreView(): (options: CoreViewOptions) => TemplateResult {
  const drawn = { core: keepLast(atTemperature), loop: createLoopChart(), flux: createFluxStrip() };
  return (options) => coreView(options, drawn);
}

interface Drawn {
  readonly core: typeof atTemperature;
  readonly loop: ReturnType<typeof createLoopChart>;
  readonly flux: ReturnType<typeof createFluxStrip>;
}

function coreView(
  { run, bit, at, instant, span, width, height: all, em, behind }: CoreViewOptions,
  drawn: Drawn,
): TemplateResult {
  const { design } = run;
  const trace = (bit === 1 ? run.one : run.zero).selected;
  const room = Math.min(width, 460 * em);
  const most = Number.isFinite(all) && all > TALL * em ? 300 : 168;
  const height = Math.min(most * em, room * 0.62, Math.max(LEAST * em, all - BESIDE * em));
  const ringWidth = RING * em * Math.max(1, height / (168 * em));
  const { turned, held, gives, drive } = coreFigures(run, bit, at);
  const name = coreSummary(run, bit, at);
  const percent = `${Math.round(100 * turned)} %`;
  const ring = ringChart({
    held,
    drive,
    name: `The core has turned ${percent}`,
    width: ringWidth,
    height,
    em,
  });
  const loop = drawn.loop({
    name,
    core: drawn.core(design.core.parameters, design.temperature),
    drive: trace.drive,
    state: trace.state,
    at,
    width: room - ringWidth,
    height,
    em,
  });
  behind.update(() => ({
    file: 'selected-core',
    title: 'The selected core',
    summary: name,
    design,
    pictures: [{ svg: loop }],
    columns: [
      { title: 'time / s', values: run.one.time },
      { title: 'ampere-turns / A', values: trace.drive },
      { title: 'stored flux / Wb', values: trace.state },
      { title: 'flux linkage / Wb', values: trace.flux },
    ],
  }));
  return html`
    <div class="core-now">${ring}${loop}</div>
    <p class="core-told">
      turned <strong>${percent}</strong>, <strong>${formatQuantity(tenths(gives), 'V', 3)}</strong> at the
      wire
    </p>
    ${drawn.flux({ run, bit, span, instant, width: room, height: 44 * em })}
  `;
}

/** A tenth of a millivolt is what is known. */
const tenths = (volts: number): number => Math.round(volts * 1e4) / 1e4;
