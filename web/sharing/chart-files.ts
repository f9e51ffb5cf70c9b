import type { ChartData } from './chart-data.ts';
import { withPngText } from './png-text.ts';
import { svgFile } from './svg-file.ts';
import { chartCsv, chartJson, provenance } from './text-files.ts';

export type FileKind = 'CSV' | 'SVG' | 'PNG' | 'JSON';

/** What a file of a chart holds, with its media type. */
export async function chartFile(
  data: ChartData,
  kind: FileKind,
): Promise<readonly [type: string, content: string | Uint8Array<ArrayBuffer>]> {
  switch (kind) {
    case 'CSV':
      return ['text/csv', chartCsv(data)];
    case 'JSON':
      return ['application/json', chartJson(data)];
    case 'SVG':
      return ['image/svg+xml', svgFile(data).text];
    case 'PNG':
      return ['image/png', await pngFile(data)];
  }
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
