import { html, nothing, type TemplateResult } from 'lit-html';
import type { Margins } from '../../charts/spaces.ts';
import type { DrawTrace } from '../../charts/trace-chart.ts';
import type { Run } from '../../model/run.ts';
import type { Behind } from '../../sharing/behind.ts';
import type { Page } from '../../state/page.ts';
import { choice } from '../../ui/choice.ts';
import { iconView } from '../../ui/icon-view.ts';
import { causeList } from './cause-list.ts';
import { drawCauses } from './causes.ts';
import { drawCurrents } from './currents.ts';
import { LANE_TITLE } from './lane-plan.ts';
import { causesData, currentsData, pulsesData } from './lane-data.ts';
import { drawPulses, readings } from './pulses.ts';

export interface LaneOptions {
  readonly page: Page;
  readonly width: number;
  /** px; 0: folded. */
  readonly height: number;
  readonly em: number;
  readonly margins: Margins;
  readonly behind: Behind;
  /** The reading line's flag in this lane. */
  readonly reading: HTMLElement;
}

/** px of a lane whose title has room to say where its causes are heard. */
const WHERE_ROOM = 800;

type Lane = TemplateResult | typeof nothing;

interface TraceLaneOptions extends LaneOptions {
  readonly run: Run;
  readonly draw: DrawTrace;
}

interface Drawn {
  readonly title: unknown;
  /** Undefined: folded. */
  readonly chart: SVGSVGElement | undefined;
  readonly behind: Behind;
  readonly reading: HTMLElement;
  /** Of the inputs before the last change. */
  readonly old: boolean;
}

const lane = (name: string, { title, chart, behind, reading, old }: Drawn): TemplateResult => html`
  <div class="lane lane-${name} ${old ? 'old' : ''}">
    <div class="lane-title">
      ${title}${old ? html`<span class="stale-mark">${iconView('stale')}before this change</span>` : nothing}${behind.node}
    </div>
    ${chart ? html`<div class="lane-plot">${chart}${reading}</div>` : nothing}
  </div>
`;

export function causeLane(options: TraceLaneOptions): Lane {
  const { page, run, behind, reading, ...box } = options;
  const { atoms, now } = page;
  const folded = box.height === 0;
  const size = { ...box, height: box.height - LANE_TITLE * box.em };
  const bit = atoms.bit.value;
  const strobe = now.strobe.value?.time ?? 0;
  const picked = atoms.pickedCause.value;
  const chart = folded
    ? undefined
    : drawCauses({ ...size, run, bit, way: atoms.causes.value, picked, span: now.span.value, strobe });
  behind.update(() => causesData(run, bit, strobe, chart ? [{ svg: chart }] : []));
  const way = choice({
    title: 'Causes',
    options: [
      ['alone', 'each alone'],
      ['up', 'added up'],
    ],
    chosen: atoms.causes.value,
    onChoose: (value) => {
      atoms.causes.value = value;
    },
  });
  const list = causeList({ picked, width: box.width, em: box.em, onPick: page.act.pickCause });
  const title = html`<h3>${box.width >= WHERE_ROOM * box.em ? 'Causes at the wire' : 'Causes'}</h3>
    ${folded ? html`<span class="note small">drawn in a taller window</span>` : nothing} ${list}
    ${folded ? nothing : way}`;
  return lane('causes', { title, chart, behind, reading, old: now.runIsOld.value });
}

export function detectorLane({ page, behind, reading, ...size }: LaneOptions): Lane {
  const { now } = page;
  const [run, strobe] = [now.judged.value, now.strobe.value];
  if (!run || !strobe) return nothing;
  const chart = drawPulses({
    ...size,
    height: size.height - LANE_TITLE * size.em,
    margins: { ...size.margins, top: 1, bottom: 1 },
    run,
    strobe,
    span: now.span.value,
  });
  behind.update(() => pulsesData(run, strobe, chart));
  const right = readings(run, strobe).every(({ bit, read }) => bit === read);
  const title = html`<h3>Detector</h3>
    <span class="small">${right ? 'both read right' : 'reads wrong'}</span>`;
  return lane('detector', { title, chart, behind, reading, old: now.judgedIsOld.value });
}

export function currentLane({ page, run, draw, behind, reading, ...size }: TraceLaneOptions): Lane {
  const { atoms, now } = page;
  const { em } = size;
  const folded = size.height === 0;
  const bit = atoms.bit.value;
  const chart = drawCurrents({
    ...size,
    draw,
    height: Math.max(0, size.height - LANE_TITLE * em) + 28 * em,
    margins: { ...size.margins, bottom: 28 * em, ...(folded ? { top: 0 } : {}) },
    folded,
    run,
    bit,
    span: now.span.value,
    strobe: now.strobe.value?.time ?? 0,
  });
  behind.update(() => currentsData(run, bit, chart));
  const title = html`<h3>Currents</h3>
    ${folded ? html`<span class="note small">drawn in a taller window</span>` : nothing}`;
  return lane('currents', { title, chart, behind, reading, old: now.runIsOld.value });
}
