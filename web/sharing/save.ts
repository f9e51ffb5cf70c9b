import type { ChartData } from './chart-data.ts';
import { withPngText } from './png-text.ts';
import { svgFile } from './svg-file.ts';
import { chartCsv, chartJson, provenance } from './text-files.ts';

export type FileKind = 'CSV' | 'SVG' | 'PNG' | 'JSON';

export async function saveChart(data: ChartData, kind: FileKind): Promise<void> {
  switch (kind) {
    case 'CSV':
      return saveFile(`${data.file}.csv`, 'text/csv', chartCsv(data));
    case 'JSON':
      return saveFile(`${data.file}.json`, 'application/json', chartJson(data));
    case 'SVG':
      return saveFile(`${data.file}.svg`, 'image/svg+xml', svgFile(data).text);
    case 'PNG':
      return saveFile(`${data.file}.png`, 'image/png', await pngFile(data));
  }
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

/** Twice the size on the page, for print and slides. */
const PNG_SCALE = 2;

async function pngFile(data: ChartData): Promise<Uint8Array<ArrayBuffer>> {
  const { text, width, height } = svgFile(data);
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * PNG_SCALE);
  canvas.height = Math.round(height * PNG_SCALE);
  canvas.getContext('2d')!.drawImage(image, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise<Blob | null>((resolve) => {
    canvas.toBlob(resolve, 'image/png');
  });
  return withPngText(
    new Uint8Array(await blob!.arrayBuffer()),
    'strobewright',
    JSON.stringify(provenance(data)),
  );
}
