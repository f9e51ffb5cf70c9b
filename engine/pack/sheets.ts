import { formatQuantity } from '../base/format-quantity.ts';
import { VERSION } from '../base/version.ts';
import { designToJson } from '../design/design-to-json.ts';
import { band, drawChart, label, line, trace } from '../report/chart.ts';
import { escapeText, figure, keepUnits, paragraph, section, table } from '../report/markup.ts';
import { REPORT_STYLE } from '../report/style.ts';
import { LEDGER_HEADER, ledgerRows } from '../strobe/ledger-words.ts';
import { verdictSentence } from '../strobe/verdict-words.ts';
import { CAUTIONS } from '../warnings/cautions.ts';
import type { BuildPack } from './build-pack.ts';
import type { ExpectedTrace } from './expected-traces.ts';
import { measuringPart } from './measuring/measuring-sheet.ts';
import { blocksOf, enlargedFigure, trueSizeFigure, type Block } from './threading-figure.ts';
import { isLeap, type ThreadedWire, type Threading } from './threading.ts';
import { timingFigure } from './timing-figure.ts';

const STYLE = `${REPORT_STYLE}
figure svg[style]{max-width:100%}
.sheet{break-before:page}
.box{display:inline-block;width:3.2mm;height:3.2mm;border:.35mm solid #1C1A17;vertical-align:-.4mm;margin-right:1.5mm}
.write{display:inline-block;min-width:22mm;border-bottom:.25mm solid #57524A}
ol.plan{list-style:none;padding:0;margin:0}ol.plan>li{break-inside:avoid;border-top:.25pt solid #D8D2C4;padding:1.5mm 0 2mm;margin:0}
ol.plan dl{columns:1;font-size:9pt;margin:.5mm 0 0 5mm}ol.plan dl div{display:grid;grid-template-columns:17mm 1fr;border:0;gap:2mm}ol.plan dd{text-align:left}
ol.weave li{margin:0 0 1mm}
table.parts{table-layout:fixed}table.parts th:nth-child(1){width:25%}table.parts th:nth-child(2){width:9%}table.parts th:nth-child(3){width:31%}
table.wires td{white-space:nowrap}table.wires th:first-child{width:34mm}
table.wires td:nth-child(n+2){text-align:left;}table.wires thead th+th{text-align:left}
table td.num{text-align:right}
table.measure{table-layout:fixed}table.measure th:first-child{width:34%;font-weight:400}table.measure th:nth-child(2){width:10%}table.measure th:nth-child(6){width:15%}table.measure td{white-space:nowrap}table.measure td:nth-child(6),table.measure th:nth-child(n+6){text-align:left}
.stop dt{color:#8A1F11;font-weight:600}
svg text{font-family:system-ui,-apple-system,'Segoe UI','Liberation Sans',Arial,sans-serif}
`;

const q = formatQuantity;
const q3 = (value: number, unit: Parameters<typeof formatQuantity>[1]): string => q(value, unit, 3);
const BOX = '<span class="box" role="img" aria-label="to tick"></span>';
const WRITE = '<span class="write" role="img" aria-label="to fill in">&nbsp;</span>';

/** The pack as one self-contained document for A4: no script that runs, nothing from elsewhere. */
export function packDocument(pack: BuildPack): string {
  const { design, window, threading } = pack;
  const title = `${design.name === '' ? 'A core memory' : design.name}: build pack`;
  const json = JSON.stringify(designToJson(design)).replace(/</gu, '\\u003c');
  const body = [
    `<h1>${escapeText(title)}</h1>`,
    `<p class="quiet">Strobewright ${VERSION}. ${design.mat.rows} × ${design.mat.columns} cores, ${design.mat.mats} ${design.mat.mats === 1 ? 'mat' : 'mats'}; winding ${escapeText(design.winding.kind)}. An estimate from a model: measure before trusting data to it.</p>`,
    `<p class="lead">${window.verdict.design === 'reads' ? '' : '<span class="status bad">Change the design before you build it.</span> '}${escapeText(verdictSentence(design, window))}</p>`,
    section('Before you begin', cautions()),
    sheet('1 Threading', threadingPart(threading)),
    sheet('2 Timing', timingPart(pack)),
    sheet('3 Parts', partsPart(pack)),
    sheet('4 One core first', measuringPart(pack.measuring, window.verdict.sets.core ?? undefined)),
    sheet('5 First power-up and test', planPart(pack)),
    sheet('6 What this rests on', ledgerPart(pack)),
  ];
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">',
    `<title>${escapeText(title)}</title><style>${STYLE}</style></head><body>`,
    ...body,
    `<script type="application/json" id="design">${json}</script>`,
    '</body></html>\n',
  ].join('\n');
}

const sheet = (title: string, ...parts: readonly string[]): string =>
  section(title, ...parts).replace('<section>', '<section class="sheet">');

function cautions(): string {
  const items = CAUTIONS.map(
    ({ title, text }) => `<li><span class="status">${escapeText(title)}.</span> ${escapeText(text)}</li>`,
  );
  return `<ul>${items.join('')}</ul>`;
}

function threadingPart(threading: Threading): string {
  const inhibit = threading.wires.some((wire) => wire.kind === 'inhibit');
  const blocks = blocksOf(threading);
  const which = (block: Block): string =>
    blocks.length === 1
      ? ''
      : `Rows ${block.rows[0]} to ${block.rows[1] - 1}, columns ${block.columns[0]} to ${block.columns[1] - 1}. `;
  const drawn = (kind: 'sense' | 'inhibit'): string =>
    blocks
      .map((block) =>
        figure(
          enlargedFigure(threading, block, kind),
          kind === 'sense'
            ? `${which(block)}Enlarged, seen from the front. Bars: cores as they lean. Grey arrows: write current, a read flows the other way. Coloured: the sense wire with its way; small numbers: the order of cores along it; + and −: sign of a ONE. Order and signs are the model's own.`
            : `${which(block)}The inhibit wire, against the write current of X; numbers: its order.`,
        ),
      )
      .join('');
  const size = trueSizeFigure(threading);
  return [
    weaving(threading, inhibit),
    drawn('sense'),
    size === ''
      ? paragraph('At its true size the mat is larger than this paper.')
      : figure(
          size,
          `True size, pitch ${q3(threading.pitch, 'm')}. The line must measure 50 mm: print without scaling.`,
        ),
    inhibit ? drawn('inhibit') : '',
    '<h3>Wires: cut, thread, measure</h3>',
    wireTable(threading.wires),
    paragraph(
      'Lengths hold a tenth for slack and 60 mm at either end. Resistance at 25 °C end to end; copper has 0.4 % more for each degree.',
    ),
    turnedCores(threading),
  ].join('');
}

function weaving({ mats, wires, cores }: Threading, inhibit: boolean): string {
  const leans = new Set(cores.map((core) => core.lean));
  const halves = wires.filter((wire) => wire.kind === 'sense').length;
  const steps = [
    `Lay the cores out as drawn, ${leans.size === 1 ? 'all leaning alike' : 'leaning as each bar does'}, and hold them (adhesive film or a jig with slots).`,
    'X lines first, row by row, then Y lines, column by column. Both thread every core once.',
    ...(inhibit ? ['Then the inhibit wire, row by row, along the X lines.'] : []),
    `The sense wire last, from end A in the order of the small numbers${halves > 1 ? `, in ${halves} pieces` : ''}; pull through by hand, row after row, never over an edge.`,
    'After every row: count the cores on the wire, and measure that it meets no other.',
    ...(mats > 1
      ? [
          `All ${mats} mats are threaded alike. A drive line leaves one mat where it enters the next, so that write current flows the other way in every second mat: there ends A and B change places at the amplifier and the inhibit driver.`,
        ]
      : []),
  ];
  return `<h3>Order of weaving (common practice, no source)</h3><ol class="weave">${steps.map((step) => `<li>${BOX}${escapeText(step)}</li>`).join('')}</ol>`;
}

/** Two digits in ohms, as a meter shows them. */
const ohms = (value: number): string => (value < 10 ? value.toFixed(2) : value.toFixed(1));

function wireTable(wires: readonly ThreadedWire[]): string {
  const route = ({ kind, cores }: ThreadedWire): string => {
    const name = (c: (typeof cores)[number]): string => `${c.row},${c.column}`;
    if (kind === 'x' || kind === 'y' || cores.length < 4)
      return `${name(cores[0]!)} to ${name(cores.at(-1)!)}, straight`;
    const leaps = cores
      .slice(1)
      .flatMap((c, i) => (isLeap(cores[i]!, c) ? [`${name(cores[i]!)} → ${name(c)}`] : []));
    const crossings =
      leaps.length === 0 ? '' : `; leaps ${leaps.slice(0, 4).join(', ')}${leaps.length > 4 ? ' …' : ''}`;
    return `${name(cores[0]!)}, ${name(cores[1]!)}, ${name(cores[2]!)} … ${name(cores.at(-1)!)}${crossings}`;
  };
  const rows = wires.map(
    (wire) =>
      `<tr><th scope="row">${BOX}${escapeText(wire.name)}${wire.count > 1 ? `, each mat` : ''}</th>${[
        `${wire.from} → ${wire.to}`,
        `${wire.cores.length}: ${route(wire)}`,
        q3(wire.cut, 'm'),
        `${ohms(wire.accept.low)} to ${ohms(wire.accept.high)} Ω`,
      ]
        .map((cell) => `<td>${escapeText(keepUnits(cell))}</td>`)
        .join('')}<td>${WRITE}</td></tr>`,
  );
  const head = ['Wire', 'write current', 'cores of a mat: row,column', 'cut', 'expect', 'measured']
    .map((text) => `<th scope="col">${text}</th>`)
    .join('');
  return `<table class="wires"><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function turnedCores({ cores }: Threading): string {
  const turned = cores.filter((core) => !core.straight).map((core) => `${core.row},${core.column}`);
  return turned.length === 0
    ? ''
    : paragraph(
        `Marked ↺: ${turned.slice(0, 40).join('; ')}${turned.length > 40 ? ' …' : ''}. There this winding's polarity asks that the wire pass beside the core and enter it from the other side; no direction of the drive lines does it otherwise.`,
      );
}

const SIGNALS: Readonly<Record<string, string>> = {
  x_read: 'X read',
  x_write: 'X write',
  y_read: 'Y read',
  y_write: 'Y write',
  inhibit: 'inhibit',
  strobe: 'strobe',
  latch: 'latch holds',
  disturb: 'X disturb',
};

const nanoseconds = (seconds: number): string => (seconds * 1e9).toFixed(1);

function timingPart({ design, timing }: BuildPack): string {
  return [
    figure(
      timingFigure(design, timing),
      'One cycle with an inhibited write. Up: write, down: read. Dashed: middle of the strobe. From the start of the read edge.',
    ),
    table(
      ['Edge', 'starts, ns', 'half, ns', 'ends, ns', 'may stray, ns', 'because'],
      timing.edges.map((e) => [
        `${SIGNALS[e.signal]} ${e.edge}`,
        nanoseconds(e.start),
        nanoseconds(e.half),
        nanoseconds(e.end),
        e.tolerance > 0 ? `±${nanoseconds(e.tolerance)}` : '',
        e.because,
      ]),
    ),
    paragraph(
      `Period ${q3(timing.period, 's')}. The same edges are in timing.csv and, for pulse generators and logic tools, in timing.vcd (value change dump, IEEE 1364; two cycles, the second inhibited).`,
    ),
  ].join('');
}

function partsPart({ parts }: BuildPack): string {
  const rows = parts.map(({ group, what, count, value, note }, i) => {
    const title =
      parts[i - 1]?.group === group
        ? ''
        : `<tr><th scope="colgroup" colspan="4"><h3>${escapeText(group.charAt(0).toUpperCase() + group.slice(1))}</h3></th></tr>`;
    const cells = [String(count), value, note].map((text) => `<td>${escapeText(keepUnits(text))}</td>`);
    return `${title}<tr><th scope="row">${BOX}${escapeText(what)}</th>${cells.join('')}</tr>`;
  });
  const head = ['What', 'how many', 'value', 'why'].map((text) => `<th scope="col">${text}</th>`).join('');
  return `<table class="words parts"><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function planPart({ plan, traces, window }: BuildPack): string {
  const { inForce, margin } = window;
  const mark = { ...inForce, one: inForce.threshold + margin.one };
  const items = plan.map((step, i) => {
    const lines = [
      ['Do', step.act, ''],
      ['Expect', step.expect, ''],
      ['Stop if', step.stop, ' class="stop"'],
    ] as const;
    const rows = lines
      .map(
        ([name, text, mark]) => `<div${mark}><dt>${name}</dt><dd>${escapeText(keepUnits(text))}</dd></div>`,
      )
      .join('');
    const drawn =
      step.trace === undefined
        ? ''
        : step.trace === 'read'
          ? traceFigure([traces.read, traces.zero], `plan-${i}`, mark)
          : traceFigure([traces[step.trace]], `plan-${i}`, step.trace === 'magnet' ? mark : undefined);
    return `<li><h3>${BOX}${i + 1} ${escapeText(step.title)}</h3><dl>${rows}<div><dt>Found</dt><dd>${WRITE}${WRITE}${WRITE}</dd></div></dl>${drawn}</li>`;
  });
  return (
    paragraph('In this order; go on only when a step is as expected.') +
    `<ol class="plan">${items.join('')}</ol>`
  );
}

const INK = '#1C1A17';
const QUIET = '#5C6470';
const ONE = '#804018';
const ZERO = '#304098';

/** Strobe and threshold on a trace, and how high a ONE is there: s and V. */
interface ReadMark {
  readonly time: number;
  readonly threshold: number;
  readonly one: number;
}

/** Sense voltage against time with its bands; with a mark as high as a ONE, spikes cut by the frame, and said so. */
function traceFigure(traces: readonly ExpectedTrace[], id: string, mark?: ReadMark): string {
  const millivolts = (values: Float64Array): Float64Array => values.map((v) => v * 1e3);
  const ends = traces.flatMap((t) => [t.low, t.high]).map((v) => Array.from(v, (u) => u * 1e3));
  const whole = [
    Math.min(0, ...ends.map((v) => Math.min(...v))),
    Math.max(1, ...ends.map((v) => Math.max(...v))),
  ] as const;
  const most = mark === undefined ? Infinity : 2.5e3 * Math.max(mark.one, mark.threshold);
  const [low, high] = [Math.max(whole[0], -most), Math.min(whole[1], most)];
  const room = 0.08 * (high - low);
  const nano = (values: Float64Array): Float64Array => values.map((t) => t * 1e9);
  const last = traces[0]!.time.at(-1)! * 1e9;
  const svg = drawChart(
    {
      width: 660,
      height: 190,
      x: { quantity: 't', unit: 'ns', low: 0, high: last },
      y: { quantity: 'u', unit: 'mV', low: low - room, high: high + room },
      id,
      summary: `Expected at the sense wire: ${traces.map((t) => t.title).join(' and ')}.`,
    },
    (s) => [
      ...(mark === undefined
        ? []
        : [
            line(s.left, s.toY(mark.threshold * 1e3), s.right, s.toY(mark.threshold * 1e3), QUIET, 1, '5 3'),
            line(s.toX(mark.time * 1e9), s.top, s.toX(mark.time * 1e9), s.bottom, INK, 1.25),
            label(s.toX(mark.time * 1e9) + 4, s.top + 11, 'strobe', 'start'),
            label(s.right - 3, s.toY(mark.threshold * 1e3) - 4, 'threshold', 'end'),
          ]),
      ...traces.flatMap((t, i) => {
        const colour = i === 0 ? ONE : ZERO;
        return [
          band(s, nano(t.time), millivolts(t.low), millivolts(t.high), colour),
          trace(s, nano(t.time), millivolts(t.nominal), {
            colour,
            width: 1.75,
            ...(i === 0 ? {} : { dash: '7 4' }),
          }),
        ];
      }),
    ],
  );
  const cut =
    whole[1] > high || whole[0] < low
      ? ` Spikes from ${q3(whole[0] / 1e3, 'V')} to ${q3(whole[1] / 1e3, 'V')} are cut by the frame.`
      : '';
  const names = traces.map((t, i) => `${t.title} (${i === 0 ? 'brown, solid' : 'blue, dashed'})`).join(', ');
  return figure(
    svg,
    `Expected between the ends of the sense wire: ${names}. Band: ${traces[0]!.band}.${cut}`,
  );
}

const ORIGINS: Readonly<Record<string, string>> = {
  given: 'given',
  geometry: 'from geometry',
  default: 'a default',
};

function ledgerPart({ window, wires }: BuildPack): string {
  const assumed = ledgerRows(window.ledger);
  const ledger =
    assumed.length === 0
      ? ''
      : `<h3>What decides the margin and was not given</h3>${table(LEDGER_HEADER, assumed, 'words')}`;
  const rows = wires.map((w) => [
    w.label,
    q3(w.value, w.unit),
    ORIGINS[w.from]!,
    w.range ? `${q(w.range.low, w.unit, 2)} to ${q(w.range.high, w.unit, 2)}` : '',
    w.how,
  ]);
  return `${ledger}<h3>Wires</h3>${table(['Value', '', 'from', 'honest range', 'how'], rows, 'words')}`;
}
