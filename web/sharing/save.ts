import type { ChartData } from './chart-data.ts';
import type { FileKind } from './chart-files.ts';

/** What writes files is fetched when the first one is asked for. */
export async function saveChart(data: ChartData, kind: FileKind): Promise<void> {
  const { chartFile } = await import('./chart-files.ts');
  saveFile(`${data.file}.${kind.toLowerCase()}`, ...(await chartFile(data, kind)));
}

/** Hands a file to the reader's browser. */
export function saveFile(name: string, type: string, content: string | Uint8Array<ArrayBuffer>): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
