import { escapeText, figure, keepUnits, paragraph } from '../report/markup.ts';
import { BOX, q3, WRITE } from './sheet-marks.ts';
import { blocksOf, enlargedFigure, type Block } from './threading-figure.ts';
import { trueSizeFigure } from './true-size-figure.ts';
import { isLeap } from './threading.ts';
import type { ThreadedWire, Threading } from './threading-result.ts';

/** How the wires are threaded, drawn and as a table. */
export function threadingPart(threading: Threading): string {
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
