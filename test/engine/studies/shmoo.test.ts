import { describe, expect, it } from 'vitest';
import { evaluatePoint, openDesign, planStudy, summarise } from '../../../engine/studies/study.ts';
import { LATE, ONE_PER_AMP, ZERO_PER_AMP, madeUpDesign, madeUpTools } from './made-up-memory.ts';

/** Against a memory whose edges are known: passes while 0.1 ohm X ≥ threshold ≥ 0.02 ohm Y and the strobe is early. */
describe('shmoo', () => {
  const study = (options: object) => {
    const tools = madeUpTools();
    const plan = planStudy({ kind: 'shmoo', design: madeUpDesign, options: options as never }, tools);
    return {
      tools,
      study: summarise(
        plan,
        plan.points.map((_, i) => evaluatePoint(plan, i, tools)),
      ),
    };
  };

  it('every edge lies where the memory fails, within what the edge says of itself', () => {
    const { map } = study({
      x: 'drive.x',
      xFrom: '50 mA',
      xTo: '700 mA',
      y: 'threshold',
      yFrom: '2 mV',
      yTo: '60 mV',
    }).study;
    expect(map!.edge.length).toBeGreaterThan(10);
    for (const edge of map!.edge) {
      const along = (edge as unknown as { along: string }).along;
      const where = along === 'x' ? [edge.y / ONE_PER_AMP] : [ONE_PER_AMP * edge.x, ZERO_PER_AMP * 0.4];
      const at = along === 'x' ? edge.x : edge.y;
      expect(Math.min(...where.map((w) => Math.abs(w - at)))).toBeLessThanOrEqual(edge.within * 1.0001);
    }
  });

  it('operating margins are in per cent about the nominal', () => {
    const { findings } = study({
      x: 'drive.x',
      xFrom: '50 mA',
      xTo: '700 mA',
      y: 'threshold',
      yFrom: '2 mV',
      yTo: '60 mV',
    }).study;
    // Threshold 20 mV: X must give 200 mA (−50 %); 400 mA of X allows 40 mV (+100 %); Y of 400 mA needs 8 mV (−60 %).
    expect(findings[0]).toMatch(
      /X drive current about 400 mA: from (199|200|201|202) mA \(−(49\.\d|50\.\d) %\) to 700 mA and beyond/u,
    );
    expect(findings[1]).toMatch(
      /threshold about 20 mV: from (7\.[89]|8\.[01])\d? mV \(−(59|60)\.\d %\) to (39|40)(\.\d)? mV \(\+(9\d|10\d)\.\d %\)/u,
    );
  });

  it('a strobe or threshold that moves costs no run, for neighbours share theirs', () => {
    const { tools, study: done } = study({ x: 'strobe', xTo: '450 ns', y: 'threshold', rows: 9, columns: 9 });
    expect(done.count.failed).toBe(0);
    expect(tools.runs()).toBeLessThanOrEqual(6 * done.plan.points.length);
    const late = done.map!.edge.filter(
      (edge) => edge.side === -1 && (edge as unknown as { along: string }).along === 'x',
    );
    expect(late.length).toBeGreaterThan(0);
    for (const edge of late) expect(Math.abs(edge.x - LATE)).toBeLessThan(3e-9);
  });

  it('costs far fewer runs than a grid of the same sharpness', () => {
    const { study: done } = study({ x: 'drive.x', y: 'threshold', rows: 9, columns: 9 });
    expect(done.map!.cells.length).toBeLessThan(0.03 * 128 * 128);
  });

  it('a place that cannot be built counts as failing and says why, and the line goes on', () => {
    const { study: done } = study({ x: '/drive/x/rise', xFrom: '10 ns', xTo: '900 ns', y: 'threshold' });
    expect(done.count.failed).toBe(0);
    expect(done.findings.join(' ')).toMatch(
      /could not be built.*drive\.inhibit\.lead must start the inhibit after the end of read/u,
    );
  });

  it('a click on a place opens the design with both inputs at its values', () => {
    const tools = madeUpTools();
    const plan = planStudy(
      { kind: 'shmoo', design: madeUpDesign, options: { x: 'drive.x', y: 'threshold' } },
      tools,
    );
    const design = tools.checkDesign(openDesign(plan, 2, { x: 0.3125, y: 0.0123 }));
    expect(design.drive.x.readAmplitude).toBe(0.3125);
    expect(design.drive.y.readAmplitude).toBe(0.4);
    expect(design.detector.threshold).toBe(0.0123);
  });
});
