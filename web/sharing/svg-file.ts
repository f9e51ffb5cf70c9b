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

export interface SvgFile {
  readonly text: string;
  /** px */
  readonly width: number;
  readonly height: number;
}

const NS = 'http://www.w3.org/2000/svg';
/** px over each chart of several. */
const TITLE_HEIGHT = 22;

/** The chart as a file of its own: the page's styles written into it, inputs, version and seed in its metadata. */
export function svgFile(data: ChartData): SvgFile {
  const style = getComputedStyle(document.body);
  const root = document.createElementNS(NS, 'svg');
  const add = (name: string, attributes: Readonly<Record<string, string | number>>, text = ''): void => {
    const element = document.createElementNS(NS, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
    element.textContent = text;
    root.append(element);
  };
  add('title', {}, data.title);
  add('metadata', {}, JSON.stringify(provenance(data)));
  add('rect', { width: '100%', height: '100%', fill: style.backgroundColor });
  let width = 0;
  let height = 0;
  for (const { svg, title } of data.pictures) {
    if (title) {
      const font = { 'font-family': style.fontFamily, 'font-size': 14, 'font-weight': 600 };
      add('text', { x: 4, y: height + 16, fill: style.color, ...font }, title);
      height += TITLE_HEIGHT;
    }
    const copy = svg.cloneNode(true) as SVGSVGElement;
    writeStyles(svg, copy);
    copy.setAttribute('y', String(height));
    root.append(copy);
    width = Math.max(width, svg.viewBox.baseVal.width);
    height += svg.viewBox.baseVal.height;
  }
  for (const [name, value] of Object.entries({ viewBox: `0 0 ${width} ${height}`, width, height }))
    root.setAttribute(name, String(value));
  return {
    text: `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(root)}\n`,
    width,
    height,
  };
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
