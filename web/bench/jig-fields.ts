import { signal } from '@preact/signals-core';
import type { TemplateResult } from 'lit-html';
import { READ_OFF_CAPTURE } from '../../engine/fitting/jig/fit-core.ts';
import type { FieldRefusal } from '../ui/field.ts';
import { jigFieldsView } from './jig-fields-view.ts';
import type { JigField } from './jig-field.ts';

/** Values of an invented core, to start from something that works. */
export const INVENTED_CORE: Readonly<Record<string, string>> = {
  fullDrive: '740 mA',
  rise: '50 ns',
  peakOne: '52 mV',
  peakTime: '120 ns',
  switchTime: '230 ns',
  outsideDiameter: '20 mil',
  insideDiameter: '12 mil',
  height: '5 mil',
};

/** What is known of the invented core of the captures that can be tried. */
const JIG_SETTINGS: Readonly<Record<string, string>> = {
  fullDrive: '740 mA',
  rise: '50 ns',
  outsideDiameter: '20 mil',
  insideDiameter: '12 mil',
  height: '5 mil',
};

const FIELDS: readonly JigField[] = [
  { name: 'fullDrive', label: 'Full drive', example: '740 mA' },
  { name: 'rise', label: 'Rise of the drive, 0 to 100 %', example: '50 ns' },
  { name: 'peakOne', label: 'Peak of an undisturbed ONE, uV1', example: '50 mV' },
  { name: 'peakTime', label: 'Start of rise to peak, t_p', example: '125 ns' },
  { name: 'switchTime', label: 'Start of rise to a tenth on the fall, t_s', example: '235 ns' },
  { name: 'outsideDiameter', label: 'Outside diameter', example: '20 mil' },
  { name: 'insideDiameter', label: 'Diameter of the hole', example: '12 mil' },
  { name: 'height', label: 'Height', example: '5 mil' },
  { name: 'disturbedZero', label: 'Disturbed ZERO at full drive, dVz', example: '9 mV', more: true },
  { name: 'halfSelectOne', label: 'Half-selected ONE, end of rise', example: '6 mV', more: true },
  { name: 'halfSelectZero', label: 'Half-selected ZERO, end of rise', example: '5 mV', more: true },
  { name: 'disturbRatio', label: 'Disturb current over full drive', example: '0.6', more: true },
  { name: 'dynamicThreshold', label: 'Dynamic threshold F_0', example: '500 mA', more: true },
  { name: 'coerciveDrive', label: 'Coercive drive F_c', example: '480 mA', more: true },
  {
    name: 'driveTemperatureCoefficient',
    label: 'Thresholds with temperature',
    example: '-0.5 %/K',
    more: true,
  },
  { name: 'fluxTemperatureCoefficient', label: 'Flux with temperature', example: '-0.1 %/K', more: true },
];

/** What a bench with one core on two wires reads, as fields. */
export interface JigFields {
  view(): TemplateResult;
  /** The handbook as typed; empty fields are left out. */
  handbook(): Record<string, unknown>;
  name(): string;
  /** A field as typed; '' while it is empty. */
  typed(field: string): string;
  fill(name: string, handbook: Readonly<Record<string, unknown>>): void;
  /** Fills in a core to start from something that works. */
  invent(): void;
  /** Fills in what is known of the invented core of the captures that can be tried. */
  setUp(): void;
  /** Puts in what was read off captures; the other fields stay. */
  readOff(values: Readonly<Record<string, string>>): void;
  /** A refusal beside its field; false when it is about none of them. */
  refuse(field: string, message: string): boolean;
  clear(): void;
}

export function createJigFields(): JigFields {
  const name = signal('my core');
  const values = signal<Readonly<Record<string, string>>>({});
  const refusal = signal<FieldRefusal | undefined>(undefined);
  /** The fields that few need are shown. */
  const further = signal(false);
  /** What came off a capture, as it was put in: a value that is typed over is no longer that. */
  let off: Readonly<Record<string, string>> = {};
  const typed = (field: string): string => values.value[field]?.trim() ?? '';
  const clear = (): void => {
    refusal.value = undefined;
  };
  const put = (next: Readonly<Record<string, string>>): void => {
    clear();
    values.value = { ...values.value, ...next };
    if (FIELDS.some(({ name: field, more }) => more && (next[field] ?? '') !== '')) further.value = true;
  };
  const fill = (title: string, handbook: Readonly<Record<string, unknown>>): void => {
    name.value = title;
    put(Object.fromEntries(FIELDS.map(({ name: field }) => [field, String(handbook[field] ?? '')])));
  };
  return {
    typed,
    clear,
    fill,
    name: () => name.value.trim() || 'my core',
    handbook: () => handbookOf(typed, off),
    invent: () => fill('invented core', INVENTED_CORE),
    setUp: () => fill('core from the jig', JIG_SETTINGS),
    readOff(read) {
      off = read;
      put(read);
    },
    refuse(pointer, message) {
      const field = FIELDS.find((each) => `/${each.name}` === pointer);
      if (!field) return false;
      if (field.more) further.value = true;
      refusal.value = { field: field.name, message };
      // Once it is drawn as the field at fault.
      requestAnimationFrame(() => document.getElementById(`jig-${field.name}`)?.focus());
      return true;
    },
    view: () =>
      jigFieldsView({
        fields: FIELDS,
        name: name.value,
        values: values.value,
        refusal: refusal.value,
        further: further.value,
        onName: (text) => {
          name.value = text;
        },
        onType: (field, text) => {
          values.value = { ...values.value, [field]: text };
        },
        onFurther: (open) => {
          further.value = open;
        },
      }),
  };
}

function handbookOf(typed: (field: string) => string, off: Readonly<Record<string, string>>) {
  const given = FIELDS.flatMap(({ name }): [string, unknown][] => {
    const text = typed(name);
    if (text === '') return [];
    const plain = name === 'disturbRatio' && /^[\d.]+$/u.test(text);
    return [[name, plain ? Number(text) : text]];
  });
  const measured = given.filter(([field, value]) => off[field] === value);
  const grades = Object.fromEntries(measured.map(([field]) => [field, READ_OFF_CAPTURE]));
  return Object.fromEntries(measured.length === 0 ? given : [...given, ['grades', grades]]);
}
