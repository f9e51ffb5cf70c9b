import { READ_OFF_CAPTURE } from '../../engine/fitting/jig/fit-core.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';

interface JigField {
  readonly name: string;
  readonly label: string;
  /** Shown while empty. */
  readonly example: string;
  readonly more?: boolean;
}

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
export const JIG_SETTINGS: Readonly<Record<string, string>> = {
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

export interface JigFields {
  readonly node: HTMLElement;
  /** The handbook as typed; empty fields are left out. */
  handbook(): Record<string, unknown>;
  name(): string;
  fill(name: string, handbook: Readonly<Record<string, unknown>>): void;
  /** Puts in what was read off captures; the other fields stay. */
  readOff(values: Readonly<Record<string, string>>): void;
  /** A refusal beside its field; false when it is about none of them. */
  refuse(field: string, message: string): boolean;
  clear(): void;
}

/** What a bench with one core on two wires reads, as fields. */
export function createJigFields(): JigFields {
  const name = h('input', {
    id: 'jig-name',
    type: 'text',
    maxlength: 80,
    autocomplete: 'off',
    value: 'my core',
  });
  const controls = FIELDS.map((field) => {
    const id = `jig-${field.name}`;
    const input = h('input', {
      id,
      type: 'text',
      autocomplete: 'off',
      spellcheck: 'false',
      placeholder: field.example,
    });
    const error = h('p', { class: 'field-error', id: `${id}-error`, hidden: true });
    return {
      field,
      input,
      error,
      node: h('div', { class: 'field' }, h('label', { for: id }, field.label), input, error),
    };
  });
  const nodes = (more: boolean): HTMLElement[] =>
    controls.filter(({ field }) => (field.more ?? false) === more).map(({ node }) => node);
  const further = h(
    'details',
    {},
    h('summary', {}, 'More that was measured'),
    h('div', { class: 'bench-fields' }, ...nodes(true)),
  );
  const node = h(
    'div',
    { class: 'bench-body' },
    h(
      'div',
      { class: 'bench-fields' },
      h('div', { class: 'field' }, h('label', { for: 'jig-name' }, 'Name of the core'), name),
      ...nodes(false),
    ),
    further,
  );
  /** What came off a capture, as it was put in: a value that is typed over is no longer that. */
  let off: Readonly<Record<string, string>> = {};
  const clear = (): void => {
    for (const { input, error } of controls) {
      error.hidden = true;
      input.removeAttribute('aria-invalid');
      input.removeAttribute('aria-describedby');
    }
  };
  return {
    node,
    name: () => name.value.trim() || 'my core',
    handbook() {
      const typed = controls.flatMap(({ field, input }): [string, unknown][] => {
        const text = input.value.trim();
        if (text === '') return [];
        const plain = field.name === 'disturbRatio' && /^[\d.]+$/u.test(text);
        return [[field.name, plain ? Number(text) : text]];
      });
      const measured = typed.filter(([field, value]) => off[field] === value);
      const grades = Object.fromEntries(measured.map(([field]) => [field, READ_OFF_CAPTURE]));
      return Object.fromEntries(measured.length === 0 ? typed : [...typed, ['grades', grades]]);
    },
    readOff(values) {
      clear();
      off = values;
      for (const { field, input } of controls) {
        const value = values[field.name];
        if (value === undefined) continue;
        input.value = value;
        if (field.more) further.open = true;
      }
    },
    fill(title, handbook) {
      clear();
      name.value = title;
      for (const { field, input } of controls) input.value = String(handbook[field.name] ?? '');
      if (controls.some(({ field, input }) => field.more && input.value !== '')) further.open = true;
    },
    refuse(pointer, message) {
      const control = controls.find(({ field }) => `/${field.name}` === pointer);
      if (!control) return false;
      const { field, input, error } = control;
      if (field.more) further.open = true;
      error.hidden = false;
      put(error, icon('error'), message);
      input.setAttribute('aria-invalid', 'true');
      input.setAttribute('aria-describedby', error.id);
      input.focus();
      return true;
    },
    clear,
  };
}
