import { atTemperature } from '../../core/model.ts';
import { driveLevels, warmCurrents, type WarmCurrents } from '../../drive/at-temperature.ts';
import type { CoreParameters } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';

/** The design at one end of what its tolerances allow. */
export interface DesignEnd {
  /** °C. */
  readonly temperature: number;
  /** Core parameters there. */
  readonly core: CoreParameters;
  /** Currents there, the drives at their high or low end. */
  readonly currents: WarmCurrents;
  readonly levels: ReturnType<typeof driveLevels>;
}

/**
 * The warm (+1) or cold (-1) end of the temperature with all drives high (+1) or low (-1): two standard deviations,
 * the supply's half range, and what a tracking drive misses (trackingError).
 */
export function designEnd(design: Design, warm: 1 | -1, high: 1 | -1): DesignEnd {
  const { tolerances } = design;
  const temperature = design.temperature + warm * tolerances.temperature;
  const line = (name: 'x' | 'y' | 'inhibit', spread: number): number =>
    1 + high * (2 * spread + tolerances.supply + trackingError(design, name, temperature));
  const [x, y] = (['x', 'y'] as const).map((name) => {
    const d = design.drive[name];
    const factor = line(name, tolerances.drive);
    return { ...d, readAmplitude: d.readAmplitude * factor, writeAmplitude: d.writeAmplitude * factor };
  });
  const amplitude = design.drive.inhibit.amplitude * line('inhibit', tolerances.inhibit);
  const end = {
    ...design,
    temperature,
    drive: { x: x!, y: y!, inhibit: { ...design.drive.inhibit, amplitude } },
  };
  return {
    temperature,
    core: atTemperature(design.core.parameters, temperature),
    currents: warmCurrents(end),
    levels: driveLevels(end),
  };
}

/**
 * By how much a drive that follows the temperature misses it, as a fraction of its current: its coefficient is off by
 * a part of itself, and what it follows is not where the cores are.
 */
export function trackingError(design: Design, line: 'x' | 'y' | 'inhibit', temperature: number): number {
  const { tracking, gradient } = design.tolerances;
  const coefficient = Math.abs(design.drive[line].temperatureCoefficient);
  return coefficient * (tracking * Math.abs(temperature - 25) + gradient);
}
