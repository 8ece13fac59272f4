// A column of a comparison without a ray traced: lumens by the lamp's currents, ± as they are given.
import { columnParts } from '../../src/job/compare/column.ts'
import { type Column, PAIRS } from '../../src/job/compare/result.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { fakeDanger } from './fakeDanger.ts'

/** 20 kW/m² in front at 2 A. */
const KWM2_AN_AMPERE = 10

export const fakeColumn = (lamp: Lamp, se = 1): Column => {
  const lm = lamp.boards.reduce((sum, b) => sum + 1000 * b.currentA, 0)
  const figures = { fluxOutLm: { value: lm, se }, emittedLm: { value: lm, se: 0 }, 'hot.front': { value: 3, se: 0.1 } }
  const danger = fakeDanger(lamp, KWM2_AN_AMPERE * (lamp.boards[0]?.currentA ?? 0))
  return {
    light: {
      rays: 65_536,
      figures,
      absent: { beamAngleDeg: 'No beam.' },
      why: null,
      profile: { thetaDeg: Float32Array.of(0, 5), cd: Float32Array.of(lm, 0), seCd: Float32Array.of(se, 0) },
      night: null,
      findings: [],
      ledger: [],
      pairs: Array.from({ length: PAIRS }, () => figures),
    },
    heat: { modes: [], findings: [] },
    danger: { reading: danger, means: danger, rough: false },
    parts: columnParts(lamp),
  }
}
