import { escapeText, paragraph } from '../report/markup.ts';

const TYPES: Readonly<Record<string, string>> = { csv: 'text/csv', json: 'application/json' };

const HOLDS: Readonly<Record<string, string>> = {
  'design.json': 'the design itself',
  'timing.csv': 'every edge of a cycle',
  'timing.vcd': 'the same for pulse generators and logic tools',
  'parts.csv': 'the parts',
  'core-readings.csv': 'what to read on one core and what to expect',
  'stages.csv': 'what changes from stage to stage, by cause',
  'threading.csv': 'every wire from core to core',
};

/** The files of the pack inside its document, each to be saved from there: whoever was sent the document has them all. */
export function filesPart(files: Readonly<Record<string, string>>): string {
  const items = Object.entries(files).map(([name, text]) => {
    const type = TYPES[name.slice(name.lastIndexOf('.') + 1)] ?? 'text/plain';
    const link = `data:${type};charset=utf-8,${encodeURIComponent(text)}`;
    const holds = HOLDS[name] ?? 'the design of a stage, for fits of its captures';
    return `<li><a download="${escapeText(name)}" href="${escapeText(link)}">${escapeText(name)}</a>: ${escapeText(holds)}</li>`;
  });
  return `${paragraph('On a screen each name saves its file; they are inside this document.')}<ul>${items.join('')}</ul>`;
}
