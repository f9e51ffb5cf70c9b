import type { ChartData } from './chart-data.ts';
import { provenance } from './text-files.ts';

const STYLES = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linejoin',
  'stroke-linecap',
  'opacity',
  'font-family',
  'font-size',
  'font-style',
  'font-weight',
  'paint-order',
] as const;

/** The chart as a file of its own: the page's styles written into it, inputs, version and seed in its metadata. */
export function svgFile(data: ChartData & { readonly svg: SVGSVGElement }): string {
  const copy = data.svg.cloneNode(true) as SVGSVGElement;
  writeStyles(data.svg, copy);
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.removeAttribute('class');
  const ns = 'http://www.w3.org/2000/svg';
  const metadata = document.createElementNS(ns, 'metadata');
  metadata.textContent = JSON.stringify(provenance(data));
  const title = document.createElementNS(ns, 'title');
  title.textContent = data.title;
  const page = document.createElementNS(ns, 'rect');
  page.setAttribute('width', '100%');
  page.setAttribute('height', '100%');
  page.setAttribute('fill', getComputedStyle(document.body).backgroundColor);
  copy.prepend(title, metadata, page);
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(copy)}\n`;
}

function writeStyles(from: Element, to: Element): void {
  const computed = getComputedStyle(from);
  for (const name of STYLES) {
    const value = computed.getPropertyValue(name);
    if (value !== '' && value !== 'none') to.setAttribute(name, value);
    else if (name === 'fill' || name === 'stroke') to.setAttribute(name, 'none');
  }
  for (let i = 0; i < from.children.length; i++) writeStyles(from.children[i]!, to.children[i]!);
  to.removeAttribute('class');
}
