import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { spectrumOfOne, type SignalAgainstNoise } from '../../engine/strobe/spectrum.ts';
import { spectrumChart } from '../charts/spectrum-chart.ts';
import { put } from '../ui/dom.ts';
import type { Run } from '../model/run.ts';
import { createFigure } from '../sharing/figure.ts';
import { createMore } from '../sharing/more.ts';

const cache = new WeakMap<Simulation, SignalAgainstNoise>();

function spectrumOfRun(run: Run): SignalAgainstNoise {
  const known = cache.get(run.one) ?? spectrumOfOne(run.one);
  cache.set(run.one, known);
  return known;
}

/** The selected core's ONE against direct and half-select noise by frequency, to choose a bandwidth. */
export function createSpectrumView(): { readonly node: HTMLElement; update(run: Run, em: number): void } {
  let shown: readonly [Run, number] | undefined;
  const figure = createFigure({ title: 'ONE against noise by frequency', className: 'spectrum' });
  const more = createMore('The spectrum: how much bandwidth the amplifier needs', () => draw(), figure.node);

  function draw(): void {
    if (!shown || !more.node.open) return;
    const [run, em] = shown;
    const spectrum = spectrumOfRun(run);
    const { bandwidth, secondPole, highPass } = run.design.amplifier;
    const width = Math.min(figure.body.clientWidth, 900 * em);
    const top = Math.min(spectrum.frequency.at(-1) ?? 1e8, 1.2e8);
    const finite = [
      { at: bandwidth, label: `bandwidth ${formatQuantity(bandwidth, 'Hz', 3)}` },
      { at: secondPole, label: `second pole ${formatQuantity(secondPole, 'Hz', 3)}` },
      { at: highPass, label: `AC coupling ${formatQuantity(highPass, 'Hz', 3)}` },
    ].filter(({ at }) => at > 0 && Number.isFinite(at));
    const node = spectrumChart({
      name: spectrumSummary(run, spectrum),
      frequency: spectrum.frequency,
      lines: [
        { style: 'selected', label: 'ONE of the selected core', density: spectrum.one },
        { style: 'half', label: 'direct and half-select noise', density: spectrum.noise },
      ],
      marks: finite,
      from: Math.max(spectrum.frequency[1] ?? 1e4, 5e4),
      to: top,
      width,
      height: Math.max(240 * em, Math.min(360 * em, width * 0.5)),
      em,
    });
    put(figure.body, node);
    figure.update(() => ({
      file: 'spectrum',
      title: 'ONE and noise by frequency, before the amplifier',
      summary: spectrumSummary(run, spectrum),
      design: run.design,
      pictures: [{ svg: node }],
      columns: [
        { title: 'frequency / Hz', values: spectrum.frequency },
        { title: 'ONE / V s', values: spectrum.one },
        { title: 'noise / V s', values: spectrum.noise },
      ],
    }));
  }

  return {
    node: more.node,
    update(...next) {
      shown = next;
      draw();
    },
  };
}

export function spectrumSummary(run: Run, { frequency, one, noise, crossover }: SignalAgainstNoise): string {
  const { bandwidth } = run.design.amplifier;
  const at = (values: Float64Array, f: number): number => {
    const i = frequency.findIndex((value) => value >= f);
    return values[i < 0 ? values.length - 1 : i] ?? 0;
  };
  const limit = Number.isFinite(bandwidth)
    ? `the amplifier’s bandwidth is ${formatQuantity(bandwidth, 'Hz', 3)}, where the noise is ${ratio(at(noise, bandwidth), at(one, bandwidth))} the ONE`
    : 'the amplifier has no stated bandwidth';
  const crossing = Number.isFinite(crossover)
    ? crossover === 0
      ? 'The noise is the greater from the lowest frequency on'
      : `The noise is the greater from ${formatQuantity(crossover, 'Hz', 3)} on for the first time`
    : 'The noise is nowhere the greater';
  return `Amplitude density of the selected core’s ONE and of direct coupling with half-selected cores, over the read. ${crossing}; ${limit}.`;
}

const ratio = (a: number, b: number): string =>
  b === 0 ? 'above' : `${Number((a / b).toPrecision(2))} times`;
