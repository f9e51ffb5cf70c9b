import { html, type TemplateResult } from 'lit-html';
import type { Design } from '../../../engine/design/design.ts';
import { storedBits } from '../../../engine/mat/stored-pattern.ts';
import { wirePath } from '../../../engine/mat/winding.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import { matChart } from '../../charts/mat-chart.ts';
import { givesKey, wireSumChart } from '../../charts/mat-gives.ts';
import { coreAt, type MatSpaces } from '../../charts/mat-spaces.ts';
import type { Run } from '../../model/run.ts';
import { matSummary } from '../../model/summaries.ts';
import type { Core } from '../../state/atoms.ts';
import { keepLast } from '../../ui/last.ts';
import { neighbour } from './core-changes.ts';

export interface Drawing {
  readonly chart: SVGSVGElement;
  readonly spaces: MatSpaces;
  readonly bits: Uint8Array;
  readonly polarity: Int8Array;
  readonly summary: string;
  /** The sum along the wire, where it is known what each core gives. */
  readonly sum: SVGSVGElement | undefined;
}

export interface DrawingOptions {
  readonly run: Run;
  readonly bit: 0 | 1;
  /** The core that is looked at. */
  readonly core: Core;
  readonly given: CoreShares | undefined;
  readonly driven: 1 | 2 | undefined;
  /** Addresses at which reads were tried, and whether they were right. */
  readonly tried: ReadonlyMap<number, boolean> | undefined;
  readonly width: number;
  readonly em: number;
}

/**
 * Drawn anew only when what is drawn has changed: a pointer over a mat of thousands of cores changes none of it, and an
 * instant on from the last only what the cores that give anything look like.
 */
export function createDrawing(): (options: DrawingOptions) => Drawing {
  const wireOf = keepLast(wirePath);
  const bitsOf = keepLast((design: Design, bit: 0 | 1) =>
    storedBits({ ...design, selected: { ...design.selected, bit } }),
  );
  let shown: DrawingOptions | undefined;
  const draw = keepLast(
    (...of: [Run, 0 | 1, number, number, string | undefined, 1 | 2 | undefined, number, number]) => {
      void of;
      return drawMat(shown!, bitsOf(shown!.run.design, shown!.bit), wireOf(shown!.run.design));
    },
  );
  const sumOf = keepLast(drawSum);
  return (options) => {
    const { run, bit, core, given, driven, tried, width, em } = (shown = options);
    const { order } = wireOf(run.design);
    const looks = given && givesKey(given.emf, order);
    const still = draw(run, bit, core.row, core.column, looks ?? triedKey(tried), driven, width, em);
    return { ...still, sum: given && sumOf(given, run, order, width, em) };
  };
}

const triedKey = (tried: DrawingOptions['tried']): string | undefined =>
  tried && [...tried].map(([index, right]) => `${index}${right}`).join();

function drawMat(
  { run, core, given, driven, tried, width, em }: DrawingOptions,
  bits: Uint8Array,
  { polarity, order }: ReturnType<typeof wirePath>,
): Omit<Drawing, 'sum'> {
  const { mat: size, selected, exceptions } = run.design;
  const summary = matSummary(run, bits);
  const { node, spaces } = matChart({
    name: summary,
    rows: size.rows,
    columns: size.columns,
    bits,
    polarity,
    order,
    selected,
    focus: core,
    marked: exceptions.map((item) => item.row * size.columns + item.column),
    ...(given ? { shares: given.emf } : {}),
    ...(driven ? { driven } : {}),
    ...(tried ? { tried } : {}),
    width,
    em,
  });
  return { chart: node, spaces, bits, polarity, summary };
}

function drawSum(
  { emf }: CoreShares,
  { design: { mat, selected } }: Run,
  order: ArrayLike<number>,
  width: number,
  em: number,
): SVGSVGElement {
  return wireSumChart({ emf, order, selected: selected.row * mat.columns + selected.column, width, em });
}

export interface PlotOptions extends Pick<Drawing, 'chart' | 'spaces'> {
  /** The core that is looked at when it is asked. */
  readonly looked: () => Core;
  readonly size: Design['mat'];
  readonly onLook: (core: Core) => void;
  readonly onTurn: () => void;
  readonly onRead: () => void;
  /** The core under the pointer, whenever it is another one. */
  readonly onPoint: (core: Core | undefined) => void;
}

/** The mat as one stop of the keyboard: arrows go from core to core. */
export function matPlot(options: PlotOptions): TemplateResult {
  const { chart, spaces, looked, size, onLook, onTurn, onRead, onPoint } = options;
  const under = (event: MouseEvent): Core | undefined => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    return coreAt(spaces, size, event.clientX - box.left, event.clientY - box.top);
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = neighbour(event.key, looked(), size);
    if (next) onLook(next);
    else if (event.key === 'Enter') onRead();
    else if (event.key.toLowerCase() === 'x') onTurn();
    else return;
    event.preventDefault();
  };
  return html`<div
    class="plot"
    tabindex="0"
    role="group"
    aria-label="Cores of the mat: arrow keys go from core to core, Enter reads one, X turns its bit"
    @keydown=${onKey}
    @click=${(event: MouseEvent) => {
      const found = under(event);
      if (found) onLook(found);
    }}
    @pointermove=${(event: PointerEvent) => onPoint(under(event))}
    @pointerleave=${() => onPoint(undefined)}
  >
    ${chart}
  </div>`;
}
