import { html, nothing, type TemplateResult } from 'lit-html';
import type { Margins } from '../../charts/spaces.ts';
import type { Run } from '../../model/run.ts';
import type { Behind } from '../../sharing/behind.ts';
import type { Page } from '../../state/page.ts';
import { choice } from '../../ui/choice.ts';
import { drawCauses } from './causes.ts';
import { drawCurrents } from './currents.ts';
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
}

type Lane = TemplateResult | typeof nothing;

const lane = (name: string, title: unknown, chart: SVGSVGElement, behind: Behind): TemplateResult => html`
  <div class="lane lane-${name}">
    <div class="lane-title">${title}${behind.node}</div>
    ${chart}
  </div>
`;

export function causeLane(options: LaneOptions & { readonly run: Run }): Lane {
  const { page, run, behind, ...size } = options;
  const { atoms, now } = page;
  if (size.height === 0) return nothing;
  const bit = atoms.bit.value;
  const strobe = now.strobe.value?.time ?? 0;
  const chart = drawCauses({ ...size, run, bit, way: atoms.causes.value, span: now.span.value, strobe });
  behind.update(() => causesData(run, bit, strobe, [{ svg: chart }]));
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
  return lane(
    'causes',
    html`<h3>Causes</h3>
      <span class="note small">at the wire</span>${way}`,
    chart,
    behind,
  );
}

export function detectorLane({ page, behind, ...size }: LaneOptions): Lane {
  const { now } = page;
  const [run, strobe] = [now.judged.value, now.strobe.value];
  if (!run || !strobe) return nothing;
  const chart = drawPulses({ ...size, run, strobe, span: now.span.value });
  behind.update(() => pulsesData(run, strobe, chart));
  const right = readings(run, strobe).every(({ bit, read }) => bit === read);
  const title = html`<h3>Detector</h3>
    <span class="small">${right ? 'both read right' : 'reads wrong'}</span>`;
  return lane('detector', title, chart, behind);
}

export function currentLane({ page, run, behind, ...size }: LaneOptions & { readonly run: Run }): Lane {
  const { atoms, now } = page;
  const { em } = size;
  const bit = atoms.bit.value;
  const chart = drawCurrents({
    ...size,
    height: size.height + 28 * em,
    margins: { ...size.margins, bottom: 28 * em, ...(size.height === 0 ? { top: 0 } : {}) },
    run,
    bit,
    span: now.span.value,
    strobe: now.strobe.value?.time ?? 0,
  });
  behind.update(() => currentsData(run, bit, chart));
  return lane('currents', size.height === 0 ? nothing : html`<h3>Currents</h3>`, chart, behind);
}
