import { html, nothing, svg, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Proposals } from '../../engine/propose/answer.ts';
import { combinationWords, reserveWords } from '../../engine/propose/build-words.ts';
import { scrollTable } from '../ui/table.ts';

/** One build as a dot: what it draws, what it reaches, and how far it is looked into. */
interface Dot {
  readonly name: string;
  /** Number of a proposal; undefined of what is not proposed. */
  readonly number: number | undefined;
  /** A on average. */
  readonly current: number;
  readonly reserve: number;
  /** False: a first look only, its reserve is an upper end. */
  readonly sure: boolean;
}

const [WIDTH, HEIGHT] = [420, 190];
const AREA = { left: 44, right: 408, top: 12, bottom: 152 } as const;
/** Below this a build is drawn at the foot: how far it is off is no matter there. */
const LEAST = 0;

/** Every build that was looked at: its reserve over the current it draws, with a line at all that is asked for. */
export function reserveChart(answer: Proposals, cores: number): TemplateResult | typeof nothing {
  const dots = dotsOf(answer, cores);
  if (dots.length < 2) return nothing;
  const most = 1.1 * Math.max(...dots.map(({ current }) => current));
  const top = 1.05 * Math.max(1.05, ...dots.map(({ reserve }) => reserve));
  const x = (current: number): number => AREA.left + ((AREA.right - AREA.left) * current) / most;
  const y = (reserve: number): number =>
    AREA.bottom - ((AREA.bottom - AREA.top) * (Math.max(LEAST, reserve) - LEAST)) / (top - LEAST);
  return html`<figure class="reserve-chart">
    <svg
      viewBox="0 0 ${WIDTH} ${HEIGHT}"
      role="img"
      aria-label="Reserve of every build over the current it draws"
    >
      ${svg`<path class="axis" d="M${AREA.left} ${AREA.top}V${AREA.bottom}H${AREA.right}"></path>
      <path class="asked" d="M${AREA.left} ${y(1)}H${AREA.right}"></path>
      <text x=${AREA.left - 5} y=${y(1) + 4} text-anchor="end">100 %</text>
      <text x=${AREA.left - 5} y=${AREA.bottom + 4} text-anchor="end">0 %</text>
      <text x=${AREA.left} y=${AREA.bottom + 16}>0 A</text>
      <text x=${AREA.right} y=${AREA.bottom + 16} text-anchor="end">${formatQuantity(most, 'A', 2)}</text>
      <text x=${(AREA.left + AREA.right) / 2} y=${HEIGHT - 6} text-anchor="middle">average current of the supply</text>
      ${dots.map((dot) => mark(dot, x(dot.current), y(dot.reserve)))}`}
    </svg>
    <figcaption class="small">
      Reserve over current. Numbered: proposed. Full: searched. Hollow: a first look, its reserve at most. The
      line is all that is asked for.
    </figcaption>
    <details>
      <summary>As a table</summary>
      ${scrollTable({
        name: 'Reserve and current of every build',
        heads: ['Build', 'reserve', 'current'],
        rows: dots.map(({ name, number, reserve, current, sure }) => [
          number === undefined ? name : `${number}. ${name}`,
          `${sure ? '' : 'at most '}${reserveWords(reserve)}`,
          formatQuantity(current, 'A', 3),
        ]),
      })}
    </details>
  </figure>`;
}

function dotsOf({ proposals, nearest, rejected }: Proposals, cores: number): readonly Dot[] {
  const name = (item: Parameters<typeof combinationWords>[0]): string => combinationWords(item, cores);
  const near = JSON.stringify(nearest?.combination);
  return [
    ...rejected.map(({ combination, reserve, current, refined }): Dot => ({
      name: `${name(combination)}${JSON.stringify(combination) === near ? ' (nearest)' : ''}`,
      number: undefined,
      current,
      reserve,
      sure: refined,
    })),
    ...proposals.map(({ combination, reserve, proof }, i): Dot => ({
      name: name(combination),
      number: i + 1,
      current: proof.supplyAverage,
      reserve,
      sure: true,
    })),
  ];
}

const mark = ({ number, sure }: Dot, x: number, y: number): TemplateResult =>
  svg`<circle class=${number === undefined ? (sure ? 'searched' : 'looked-at') : 'proposed'} cx=${x} cy=${y} r=${number === undefined ? 3.5 : 7}></circle>
  ${number === undefined ? nothing : svg`<text class="number" x=${x} y=${y + 3.6} text-anchor="middle">${number}</text>`}`;
