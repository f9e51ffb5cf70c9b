import { formatQuantity } from '../base/format-quantity.ts';
import { VERSION } from '../base/version.ts';
import { designToJson } from '../design/design-to-json.ts';
import { escapeText, figure, keepUnits, paragraph, section, table } from '../report/markup.ts';
import { REPORT_STYLE } from '../report/style.ts';
import { LEDGER_HEADER, ledgerRows } from '../strobe/ledger-words.ts';
import { verdictSentence } from '../strobe/verdict-words.ts';
import { CAUTIONS } from '../warnings/cautions.ts';
import type { BuildPack } from './pack.ts';
import { measuringPart } from './measuring/measuring-sheet.ts';
import { filesPart } from './files-sheet.ts';
import { packTables } from './pack-tables.ts';
import { planPart } from './plan-sheet.ts';
import { BOX, q3 } from './sheet-marks.ts';
import { threadingPart } from './threading-sheet.ts';
import { stagesPart } from './stages-sheet.ts';
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
table.measure{table-layout:fixed}table.measure th:first-child{width:30%;font-weight:400}table.measure th:nth-child(2){width:9%}table.measure th:nth-child(6){width:14%}table.measure th:nth-child(7){width:12%}table.measure td{white-space:nowrap;padding-left:1mm}table.measure .write{min-width:16mm}table.timing td:last-child,table.timing th:last-child{text-align:left;padding-left:4mm}table.measure td:nth-child(6),table.measure th:nth-child(n+6){text-align:left}
.stop dt{color:#8A1F11;font-weight:600}
svg text{font-family:system-ui,-apple-system,'Segoe UI','Liberation Sans',Arial,sans-serif}
`;

/** The pack as one self-contained document for A4, its other files inside it: no script that runs, nothing from elsewhere. */
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
    sheet('5 Stages of the build', stagesPart(pack)),
    sheet('6 First power-up and test', planPart(pack)),
    sheet('7 What this rests on', ledgerPart(pack)),
    section('Files of this pack', filesPart(packTables(pack))),
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
      'timing',
    ),
    paragraph(
      `Period ${q3(timing.period, 's')}. The same edges are in timing.csv and, for pulse generators and logic tools, in timing.vcd (value change dump, IEEE 1364; two cycles, the second inhibited): at the end of this document.`,
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
    w.range ? `${formatQuantity(w.range.low, w.unit, 2)} to ${formatQuantity(w.range.high, w.unit, 2)}` : '',
    w.how,
  ]);
  return `${ledger}<h3>Wires</h3>${table(['Value', '', 'from', 'honest range', 'how'], rows, 'words')}`;
}
