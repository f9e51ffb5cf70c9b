import type { Advice } from '../advice/advice.ts';
import { buildNumbers } from '../estimates/build-numbers.ts';
import { applyOverrides } from '../strobe/case-overrides.ts';
import { CAUTIONS } from '../warnings/cautions.ts';
import { designToJson } from '../design/design-to-json.ts';
import { designWarnings } from '../warnings/design-warnings.ts';
import type { Design } from '../design/design.ts';
import { contributionFigures, currentsFigure, envelopeFigure, pulsesFigure } from './figures.ts';
import { openingFigure } from './opening-figure.ts';
import { inputs } from './inputs.ts';
import { escapeText, figure, paragraph, section } from './markup.ts';
import { REPORT_STYLE } from './style.ts';
import {
  adviceTables,
  buildTable,
  caseTable,
  chainTable,
  contributionTable,
  headline,
  ledgerTable,
  pulseTable,
  setTable,
  uncertaintyTable,
  windowTable,
} from './tables.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { simulate } from '../simulate/simulate.ts';
import { wholeWindow } from '../studies/whole-window.ts';
import { VERSION } from '../base/version.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import { cornerSentence } from '../strobe/window-words.ts';

export interface ReportOptions {
  readonly simulate?: (design: Design, options?: SimulateOptions) => Simulation;
  /** A window that is at hand already (default: computed, all cases). */
  readonly window?: StrobeWindow;
  /** What to change, when it has been computed; it takes too long to do unasked. */
  readonly advice?: Advice;
}

/**
 * The printable report of a design: one self-contained HTML document (no script that runs, no link, no font or
 * picture from elsewhere) for A4 or Letter. The design itself is in it as JSON, in `#design`.
 */
export function makeReport(design: Design, options: ReportOptions = {}): string {
  const run = options.simulate ?? simulate;
  const window = options.window ?? wholeWindow(design, { simulate: run });
  const one = run(worstOne(design, window));
  const title = design.name === '' ? 'A core memory' : design.name;
  const body = [
    `<h1>${escapeText(title)}</h1>`,
    design.note === '' ? '' : `<p class="quiet">${escapeText(design.note)}</p>`,
    `<p class="quiet">Strobewright ${VERSION}, seed ${design.stored.seed}. An estimate from a model: measure before trusting data to it.</p>`,
    headline(design, window),
    setTable(design, window),
    section(
      'Strobe and threshold',
      window.envelope.time.length === 0
        ? ''
        : figure(
            envelopeFigure(window, one),
            'Amplifier output referred to the sense wire: bands of all ONEs (brown, solid) and all ZEROs (blue, dashed). Tinted: strobes that pass. Higher spikes are cut by the frame.',
          ),
      `<div class="beside">${windowTable(design, window)}${openingPart(window)}</div>`,
      pulsesPart(window, one),
      paragraph(cornerSentence(window)),
    ),
    section(
      'Where the voltage comes from',
      paragraph('Sense voltage of the worst ONE over the whole cycle, by cause; the thin line is the total.'),
      `<div class="pair">${contributionFigures(one)
        .map(({ title, svg }) => figure(`<h3>${escapeText(title)}</h3>${svg}`, ''))
        .join('')}</div>`,
      figure(currentsFigure(one), 'Currents: X solid, Y dashed, inhibit in long dashes.'),
      contributionTable(window),
      chainTable(window),
    ),
    options.advice ? section('What uses it up, and what to change', adviceTables(options.advice)) : '',
    section('Warnings', warnings(design, window)),
    section(
      'Numbers to build from',
      buildTable(design, buildNumbers(design)),
      paragraph(
        'Threading, timing, parts, stages of the build and first power-up are in the build pack: “strobewright pack DESIGN --output FOLDER”, or Save build pack in the menu Share of the page.',
      ),
    ),
    section('Uncertainties', ledgerTable(window), uncertaintyTable(design, one)),
    section('Cases that were run', caseTable(window)),
    section('Cautions', cautions()),
    section('Inputs', inputs(design)),
  ];
  const json = JSON.stringify(designToJson(design)).replace(/</g, '\\u003c');
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">',
    `<title>${escapeText(title)}: strobe report</title><style>${REPORT_STYLE}</style></head><body>`,
    ...body,
    `<script type="application/json" id="design">${json}</script>`,
    '</body></html>\n',
  ].join('\n');
}

/** The case that sets the least ONE, else the design with a ONE. */
function worstOne(design: Design, window: StrobeWindow): Design {
  const setting = window.cases.find((c) => c.defines && c.bit === 1);
  return applyOverrides(design, setting?.overrides ?? { selected: { bit: 1 } });
}

function pulsesPart(window: StrobeWindow, one: Simulation): string {
  const svg = pulsesFigure(window, one);
  const drawn =
    svg === ''
      ? ''
      : figure(
          svg,
          'Output of the detector for the least ONE and the greatest ZERO; the line is the strobe.',
        );
  return drawn + pulseTable(window);
}

function openingPart(window: StrobeWindow): string {
  const svg = openingFigure(window);
  return svg === ''
    ? paragraph('No strobe has a threshold that passes with the stated uncertainties.')
    : figure(
        svg,
        'Opening: every pair of strobe and threshold inside it passes with the stated uncertainties.',
      );
}

function warnings(design: Design, window: StrobeWindow): string {
  const lines = [
    ...designWarnings(design).map((w) => `${w.message} ${w.remedy}`),
    ...(window.notices ?? []).map((n) => n.message),
  ];
  return lines.length === 0
    ? '<p><span class="status ok">✓ None.</span></p>'
    : `<ul>${lines.map((text) => `<li><span class="status warn">▲ Warning.</span> ${escapeText(text)}</li>`).join('')}</ul>`;
}

function cautions(): string {
  const items = CAUTIONS.map(
    ({ title, text }) => `<li><span class="status">${escapeText(title)}.</span> ${escapeText(text)}</li>`,
  );
  return `<ul>${items.join('')}</ul>`;
}
