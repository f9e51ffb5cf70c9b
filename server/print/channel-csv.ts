import type { ChannelReport } from '../../engine/channel/channel-report.ts';
import { channelJson } from '../../engine/export/serialise.ts';
import { csvLine } from './csv-line.ts';

/** Every figure of the report on a line of its own: its place in the JSON, and its value in SI. */
export function channelCsv(report: ChannelReport): string {
  const { design, version, ...figures } = JSON.parse(channelJson(report)) as Record<string, unknown>;
  return [
    `# strobewright ${String(version)}\n# design ${JSON.stringify(design)}\n`,
    csvLine(['quantity', 'value_SI']),
    ...leaves(figures, '').map(csvLine),
  ].join('');
}

function leaves(value: unknown, at: string): (readonly [string, string])[] {
  if (typeof value !== 'object' || value === null) return [[at, value === null ? '' : String(value)]];
  return Object.entries(value).flatMap(([name, item]) => leaves(item, at === '' ? name : `${at}.${name}`));
}
