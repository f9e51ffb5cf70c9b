import { formatQuantity } from '../base/format-quantity.ts';
import type { Design } from '../design/design.ts';
import { askedDrive } from '../drive/at-temperature.ts';
import { CORNER_SIGMAS } from '../strobe/envelope.ts';
import type { Direction } from './direction.ts';
import { reachOf } from './margin-parts.ts';
import type { Outlook } from './outlook.ts';
import type { Outside } from './prediction.ts';

/** Currents and temperatures (°C) nearer than this are the same. */
const SAME_DRIVE = 0.01;
const SAME_HEAT = 2;

/** In what the design lies outside what was measured, and how much that matters. */
export function outsideOf(outlook: Outlook): Outside[] {
  const { design, measured } = outlook;
  const all = measured.length > 0 ? measured : [atTest(design)];
  const found: (Outside | undefined)[] = [
    drive(outlook, all),
    halfSelect(outlook, all),
    field(outlook, all),
    temperature(outlook, all),
    ...(measured.length > 0 ? [size(outlook, measured), winding(outlook, measured)] : []),
    zeros(outlook, measured),
  ];
  return found.filter((each) => each !== undefined);
}

/** Where nothing else was measured: the test of the core, as a design. */
function atTest(design: Design): Design {
  const half = design.core.test.fullDrive / 2;
  const line = { readAmplitude: half, writeAmplitude: half };
  const { x, y } = design.drive;
  return {
    ...design,
    temperature: 25,
    drive: { ...design.drive, x: { ...x, ...line }, y: { ...y, ...line } },
  };
}

const amperes = (value: number): string => formatQuantity(value, 'A', 3);
const spanOf = (values: readonly number[], told: (value: number) => string): string => {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  return told(least) === told(most) ? told(least) : `${told(least)} to ${told(most)}`;
};
const beyond = (value: number, values: readonly number[], same: number): boolean =>
  value > Math.max(...values) + same || value < Math.min(...values) - same;

const isWire = ({ name }: Direction): boolean =>
  name.startsWith('/wire/') || /^(wire|mutual|coupling|termination)/u.test(name);
const KNEE = /^(coerciveDrive|staticKneeWidth|dynamicKneeWidth|ringSpread|coreThreshold)$/u;
const isKnee = ({ name }: Direction): boolean => KNEE.test(name);
const isHeat = ({ name }: Direction): boolean => name.endsWith('TemperatureCoefficient');
const isDrive = ({ name, kind }: Direction): boolean =>
  kind === 'drive' || /^(dynamicThreshold|coreRate)$/u.test(name);

function drive(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  const [asked, drives] = [askedDrive(outlook.design), all.map(askedDrive)];
  if (!beyond(asked, drives, SAME_DRIVE * asked)) return undefined;
  return {
    what: 'drive',
    measured: spanOf(drives, amperes),
    asked: amperes(asked),
    matters: reachOf(outlook, isDrive),
    why: 'threshold and resistance of the core, and how far peaks of real cores stray from the model away from the drives at which they were measured',
  };
}

const half = ({ drive: { x, y } }: Design): number => Math.max(x.readAmplitude, y.readAmplitude);

function halfSelect(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  const [asked, halves] = [half(outlook.design), all.map(half)];
  if (asked <= Math.max(...halves) * (1 + SAME_DRIVE)) return undefined;
  return {
    what: 'half-select',
    measured: spanOf(halves, amperes),
    asked: amperes(asked),
    matters: reachOf(outlook, isKnee),
    why: 'where the knee of the core lies: beyond it half-selected cores give more, and lose what they hold',
  };
}

/** The greatest drive of any core in the cases that count, with the corners. */
function field(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  const { tolerances } = outlook.design;
  const corner = (1 + CORNER_SIGMAS * tolerances.drive) * (1 + tolerances.supply);
  const asked = askedDrive(outlook.design) * corner;
  const greatest = Math.max(...all.map(askedDrive));
  if (askedDrive(outlook.design) > greatest * (1 + SAME_DRIVE) || asked <= greatest * (1 + SAME_DRIVE))
    return undefined;
  return {
    what: 'field',
    measured: `up to ${amperes(greatest)}`,
    asked: `${amperes(asked)} at a corner of drive and supply`,
    matters: reachOf(outlook, isDrive),
    why: 'threshold and resistance of the core at the corners',
  };
}

function temperature(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  const reach = outlook.design.tolerances.temperature;
  const at = outlook.design.temperature;
  const heats = all.map((each) => each.temperature);
  const ends = [at - reach, at + reach];
  if (!ends.some((end) => beyond(end, heats, SAME_HEAT))) return undefined;
  const open = outlook.directions.some(isHeat);
  const celsius = (value: number): string => `${Math.round(value)} °C`;
  return {
    what: 'temperature',
    measured: spanOf(heats, celsius),
    asked: spanOf(ends, celsius),
    matters: open ? reachOf(outlook, isHeat) : undefined,
    why: open
      ? 'how thresholds and flux of the core go with temperature'
      : 'the design gives the temperature coefficients of its core without a range: they are taken at their word',
  };
}

function size(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  const told = ({ mat }: Design): string => `${mat.rows} × ${mat.columns}`;
  if (all.some((each) => told(each) === told(outlook.design))) return undefined;
  return {
    what: 'size',
    measured: [...new Set(all.map(told))].join(', '),
    asked: told(outlook.design),
    matters: reachOf(outlook, (d) => isWire(d) || isKnee(d)),
    why: 'values of the wire for each core, and what half-selected cores give, both of which a larger mat adds up',
  };
}

function winding(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  if (all.some((each) => each.winding.kind === outlook.design.winding.kind)) return undefined;
  return {
    what: 'winding',
    measured: [...new Set(all.map((each) => each.winding.kind))].join(', '),
    asked: outlook.design.winding.kind,
    matters: reachOf(outlook, isWire),
    why: 'values of the wire; that the wire runs as the winding says is taken for granted',
  };
}

function zeros(outlook: Outlook, all: readonly Design[]): Outside | undefined {
  if (all.some((each) => each.selected.bit === 0 && each.initialState === 'disturbed')) return undefined;
  const plain = all.some((each) => each.selected.bit === 0);
  return {
    what: plain ? 'disturbed' : 'zero',
    measured: plain ? 'a ZERO, undisturbed' : 'no ZERO',
    asked: 'a disturbed ZERO',
    matters: reachOf(outlook, isKnee),
    why: 'where the knee of the core lies, and how sharp it is',
  };
}
