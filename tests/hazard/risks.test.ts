import { describe, expect, test } from 'vitest'
import type { Front } from '../../src/hazard/front.ts'
import { readRisks } from '../../src/hazard/risks.ts'
import { criticalAt, IGNITION, ignitionMaterial, ignitionSeconds } from '../../src/library/ignition.ts'
import { painSeconds } from '../../src/library/skin.ts'

/** 4 kW/m² ± 0.5 (standard error) at 1 mm, a quarter of it at 1 m. */
const front: Front = {
  worst: null,
  curve: [
    { distanceMm: 1, kWm2: 4, se: 0.5, discMm: 10 },
    { distanceMm: 1000, kWm2: 1, se: 0, discMm: 10 },
  ],
}

describe('risks in front', () => {
  test('the upper end of ± decides: 4 + 2.131/2 kW/m²', () => {
    const [skin] = readRisks(front)
    expect(skin!.secondsAtWorst).toBeCloseTo(painSeconds(5.0655)!, 9)
    const paper = readRisks(front).find((r) => r.material === ignitionMaterial('paper').name)!
    expect(paper.secondsAtWorst).toBeCloseTo(ignitionSeconds(ignitionMaterial('paper'), 5.0655)!, 9)
    const plywood = readRisks(front).find((r) => r.material === ignitionMaterial('plywood-6').name)!
    expect(plywood).toMatchObject({ secondsAtWorst: null, clearDistanceMm: 0 })
  })
  test('skin first, then the most easily lit first, each with the lower of its limits in the air that it stands in', () => {
    const [skin, ...materials] = readRisks(front, 40)
    expect(skin!.material).toMatch(/skin/)
    expect(materials).toHaveLength(IGNITION.length)
    const limits = materials.map((m) => m.criticalKWm2)
    expect(limits).toEqual([...limits].sort((a, b) => a - b))
    expect(materials[0]!.criticalKWm2).toBe(criticalAt(ignitionMaterial('paper'), 40))
    expect(materials[0]!.material).toBe(ignitionMaterial('paper').name)
  })
  test('clear distance by hand: 5.0655 at 1 mm to 1 at 1000 mm is a straight line', () => {
    const skin = readRisks(front)[0]!
    expect(skin.clearDistanceMm).toBeCloseTo(1000, 6)
  })
  test('nothing in front: nothing harms, clear anywhere', () => {
    for (const r of readRisks({ worst: null, curve: [] }))
      expect(r).toMatchObject({ secondsAtWorst: null, clearDistanceMm: 0 })
  })
  test('the hottest of the curve decides, wherever it stands; each names its source', () => {
    const late: Front = { worst: null, curve: front.curve.map((p, k) => ({ ...p, kWm2: 10 * (k + 1), se: 0 })) }
    expect(readRisks(late)[0]!.secondsAtWorst).toBe(painSeconds(20))
    for (const r of readRisks(late)) expect(r.source.length).toBeGreaterThan(5)
  })
})
