// A run of heat and power by formula, for what shows one: nothing is computed by the model.
import type { ModeRun } from '../../src/electrothermal/result.ts'

export const column = (...x: number[]) => Float64Array.from(x)

/** From 20 to 120 °C in 100 s; board 1 is hotter first, board 0 later. */
export function fakeRun(part: Partial<ModeRun> = {}): ModeRun {
  const tS = column(0, 10, 50, 100)
  const nothing = column(0, 0, 0, 0)
  return {
    id: 'full',
    name: 'Full',
    limit: { kind: 'junction', atS: 100, boardIndex: 0 },
    limits: [],
    steppedDown: null,
    sagsFromS: null,
    letGoFromS: null,
    fl1S: null,
    lmAt30S: 950,
    energyWh: 2,
    coolHalfS: 240,
    steady: { junctionMaxC: 180, plateMaxC: 150, plateMeanC: 140, lm: 700, boardIndex: 0, bearable: false },
    steadyAfter: null,
    watchedC: column(20, 30, 60, 100),
    protection: null,
    unprotected: null,
    pastCells: null,
    leftOn: null,
    welded: null,
    airStops: null,
    mostA: 6.5,
    leastV: 11,
    curves: {
      tS,
      lm: column(1000, 980, 900, 800),
      junctionMaxC: column(20, 40, 80, 120),
      plateMaxC: column(20, 30, 60, 100),
      plateMeanC: column(20, 28, 55, 90),
      plateMinC: column(20, 26, 50, 80),
      sinkC: column(20, 25, 50, 85),
      sinkW: column(0, 20, 30, 35),
      supplyV: column(12, 11.8, 11.5, 11),
      supplyA: column(6, 6.1, 6.3, 6.5),
      charge: column(1, 0.99, 0.95, 0.9),
      cellC: column(20, 20, 21, 22),
    },
    energy: {
      inJ: column(0, 720, 3600, 7200),
      lightJ: column(0, 180, 900, 1800),
      wallJ: nothing,
      storedJ: column(0, 400, 1800, 3400),
      toAirJ: column(0, 40, 400, 1000),
      driverJ: column(0, 60, 300, 600),
      wiresJ: column(0, 10, 50, 100),
      cellsJ: column(0, 30, 150, 300),
    },
    plateFrames: {
      columns: 2,
      rows: 1,
      fromXMm: -10,
      toXMm: 10,
      fromYMm: -5,
      toYMm: 5,
      tS: column(0, 100),
      frames: [Float32Array.of(20, Number.NaN), Float32Array.of(100, Number.NaN)],
    },
    boardLm: [],
    boardJunctionC: [
      [20, 20],
      [38, 40],
      [80, 78],
      [120, 110],
    ].map((row) => Float32Array.from(row)),
    boardA: [],
    hottestBoard: 0,
    boards: [],
    channels: [],
    outside: [],
    full: null,
    ...part,
  }
}
