import type { Column } from '../shared/shape.ts';
import type { SharedDraw } from './draw.ts';

export const OWN = { threshold: 'ownThreshold', flux: 'ownFlux', elastic: 'ownElastic' } as const;

export const SHARED: readonly (readonly [key: keyof SharedDraw, label: string, unit: string])[] = [
  ['driveX', 'X drive, factor', ''],
  ['driveY', 'Y drive, factor', ''],
  ['inhibit', 'inhibit, factor', ''],
  ['edgeX', 'X edges, factor', ''],
  ['edgeY', 'Y edges, factor', ''],
  ['terminationA', 'termination A, factor', ''],
  ['terminationB', 'termination B, factor', ''],
  ['threshold', 'threshold, factor', ''],
  ['strobe', 'strobe, off by', 's'],
  ['temperature', 'temperature, off by', 'K'],
  ['supply', 'supply, factor', ''],
];

export const COLUMNS: readonly Column[] = [
  ...SHARED.map(([key, label, unit]) => ({ key, label, unit })),
  { key: OWN.threshold, label: 'core threshold, factor', unit: '' },
  { key: OWN.flux, label: 'core flux, factor', unit: '' },
  { key: OWN.elastic, label: 'core elastic part, factor', unit: '' },
  { key: 'row', label: 'row', unit: '' },
  { key: 'column', label: 'column', unit: '' },
  { key: 'one', label: 'margin of the ONE', unit: 'V' },
  { key: 'zero', label: 'margin of the ZERO', unit: 'V' },
  { key: 'margin', label: 'margin', unit: 'V' },
  { key: 'pass', label: 'bit passes', unit: 'text' },
  { key: 'stackMargin', label: 'least margin read in the stack', unit: 'V' },
  { key: 'stackReads', label: 'bits of the stack read besides', unit: '' },
  { key: 'stack', label: 'stack', unit: 'text' },
];
