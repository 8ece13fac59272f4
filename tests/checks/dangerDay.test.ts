// A lamp left in the sun for a day, and light beside the lamp: findings from readings by hand.
import { describe, expect, test } from 'vitest'
import { checkDanger } from '../../src/checks/danger.ts'
import type { DangerParts } from '../../src/checks/dangerParts.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { thresholds } from '../../src/library/thresholds.ts'

const gannet = gannetHead()
const spot = { kWm2: 8, se: 0, xMm: 11, yMm: -4, zMm: 250, discMm: 10 }
const nothing: DangerParts = {
  ...{ clear: [], things: [], sunMap: [], sunPlaces: [], sunDay: null, bareLens: null, eye: null },
  beside: { leakedW: 0, worst: null, curve: [] },
  parts: { lens: null, elements: [], wall: null, boards: null, optics: [], absent: {} },
}
const one = (rule: string, over: Partial<DangerParts>) =>
  checkDanger(gannet, { ...nothing, ...over }).find((f) => f.rule === rule)

describe('left lying for a day', () => {
  type Day = NonNullable<DangerParts['sunDay']>
  const worst = { ...spot, sunWm2: 950 } as unknown as Day['worst']
  const turned = (plasticSeconds: number | null, tiltDeg = 5) => ({ kWm2: 20, tiltDeg, plasticSeconds })
  const day = (over: Partial<Day>) =>
    one('sun-over-the-day', {
      sunDay: {
        ...({
          place: { latitudeDeg: 45, lensUpDeg: 30 },
          declinationDeg: 0,
          moments: [],
          worst,
          turned: null,
        } as unknown as Day),
        ...{
          hoursOverPlastic: 2.25,
          hoursOverWood: 1,
          plasticSeconds: 40,
          woodSeconds: null,
          staysSeconds: null,
          coverC: 60,
        },
        ...over,
      },
    })
  const LAID =
    'Left lying at latitude 45°, lens 30° up, the sun lights plastic inside for 2.3 h of the day. At the worst it takes 40 s.'
  const TURNED = 'Turned so that the sun passes 5° off the axis, it lights plastic in 9 s: up to 20 kW/m².'
  test('as it was laid: severe, at the worst moment’s place', () => {
    const f = day({})!
    expect(f.title).toBe(LAID)
    expect(f).toMatchObject({ severity: 'severe', place: { kind: 'point', xMm: 11, yMm: -4, zMm: 250, on: 'inside' } })
    expect(f.why).toMatch(/^Clear sky: 0\.95 kW\/m² of direct sun at that hour\. Figures/)
  })
  test('worse turned: in the title; no worse, or the same in words: in the why', () => {
    expect(day({ turned: turned(9) })!.title).toBe(`${LAID} ${TURNED}`)
    expect(day({ turned: turned(9) })!.why).not.toContain('Turned')
    const better = day({ turned: turned(50, 0) })!
    expect(better.title).toBe(LAID)
    expect(better.why).toMatch(
      /^Turned so that the sun passes on the axis, it lights plastic in 50 s: up to 20 kW\/m²\. Clear sky/,
    )
    // 39.99 s is said as 39.9 s, rounded down, and so stands in the title.
    expect(day({ turned: turned(39.99) })!.title).toContain('Turned')
    expect(day({ turned: turned(40) })!.title).toBe(LAID)
    expect(day({ turned: turned(39.9) })!.title).toContain('Turned')
    expect(day({ turned: turned(null) })!.title).toBe(LAID)
    expect(day({ turned: turned(null) })!.why).toMatch(/^Clear sky/)
  })
  test('too weak as it was laid: a warning where turning it lights plastic, else nothing', () => {
    const weak = (over: Partial<Day>) => day({ plasticSeconds: null, ...over })
    const f = weak({ turned: turned(9) })!
    expect(f.title).toBe(
      `Left lying at latitude 45°, lens 30° up, the sun’s spot stays too weak to light plastic inside. ${TURNED}`,
    )
    expect(f).toMatchObject({ severity: 'warning', place: { xMm: 0, yMm: 0, zMm: 0 } })
    expect(f.why).toMatch(/^Figures of ignition/)
    expect([weak({}), weak({ turned: turned(null) })]).toEqual([undefined, undefined])
    expect(day({ worst: null, turned: turned(9) })!.severity).toBe('warning')
    expect(day({ worst: null })).toBeUndefined()
    expect(one('sun-over-the-day', {})).toBeUndefined()
  })
  test('how long the spot stays, against the time that it takes', () => {
    expect(day({ staysSeconds: 41 })!.why).toMatch(
      /^The spot stays on one place for 41 s, longer than that\. Clear sky/,
    )
    expect(day({ staysSeconds: 40 })!.why).toMatch(/^The spot stays on one place for 40 s\. Clear sky/)
    expect(day({ plasticSeconds: null, turned: turned(9), staysSeconds: 99 })!.why).not.toContain('stays')
  })
})

describe('light beside the lamp', () => {
  const table = thresholds(undefined).map((t) => ({ ...t, clearDistanceMm: 0, secondsAtWorst: null, shareAtWorst: 0 }))
  const row = (id: string, name: string, kWm2: number, harm: (typeof table)[number]['harm']) => ({
    ...{ ...table.find((t) => t.id === id)!, name, kWm2, harm },
  })
  const place = { ...spot, zone: 'outside', dx: 0, dy: 0, dz: -1, spreadRad: 0.2, xMm: 30, yMm: 40 }
  const beside = (clear: typeof table, zMm = -7) =>
    one('light-beside', {
      clear,
      beside: {
        leakedW: 12.34,
        worst: { ...place, zMm } as NonNullable<DangerParts['beside']['worst']>,
        curve: [30, 300, 1000].map((distanceMm, k) => ({ distanceMm, kWm2: 8 / 4 ** k, se: 0, discMm: 10 })),
      },
    })
  test('what is harmed farthest out leads, and the first fire behind it', () => {
    const f = beside([
      row('paper', 'Paper', 3, 'catches fire'),
      row('skin', 'Skin', 1, 'hurts'),
      row('pvc', 'Sleeves', 9, 'softens'),
    ])!
    expect(f.severity).toBe('severe')
    // 3-4-5: 50 mm.
    expect(f.title).toMatch(
      /^12\.4 W leaves beside the beam: up to 8 kW\/m², 50 mm off the axis and 7 mm behind the face\. Skin hurts nearer than \d+ mm to the lamp’s side\. Paper catches fire nearer than \d+ mm\.$/,
    )
    const [skin, paper] = [...f.title.matchAll(/nearer than (\d+) mm/g)].map((m) => Number(m[1]))
    expect([skin! > 300, skin! < 1000, paper! > 30, paper! < 300]).toEqual([true, true, true, true])
    expect(f.why).toMatch(/what stands 300 mm away meets up to 2 kW\/m²\. Over 10 mm/)
    expect(f.place).toEqual({ kind: 'point', xMm: 30, yMm: 40, zMm: -7, on: 'inside' })
  })
  test('fire alone is said once; smouldering is as severe; what only softens warns; above the face’s plane', () => {
    const paper = beside([row('paper', 'Paper', 3, 'catches fire')])!
    expect(paper.title).toMatch(/Paper catches fire nearer than \d+ mm to the lamp’s side\.$/)
    expect(beside([row('timber', 'Timber', 3, 'chars and glows')])!.severity).toBe('severe')
    expect(beside([row('pvc', 'Sleeves', 3, 'softens')])).toMatchObject({ severity: 'warning' })
    expect(beside([row('pvc', 'Sleeves', 3, 'softens')], 0)!.title).toContain('and 0 mm above the face’s plane.')
    expect(beside([row('pvc', 'Sleeves', 9, 'softens')])).toBeUndefined()
    expect(one('light-beside', { clear: [row('pvc', 'Sleeves', 3, 'softens')] })).toBeUndefined()
  })
})
