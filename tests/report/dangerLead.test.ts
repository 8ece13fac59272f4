// The three distances on top: what is longest stands there, and nothing near a limit reads as calm.
import { expect, test } from 'vitest'
import { gannetHead } from '../../src/library/demos.ts'
import { leadDistances } from '../../src/report/dangerLead.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const d = fakeDanger(gannetHead())

test('eyes by the longest time that applies, not by a shorter look', () => {
  const [eye] = leadDistances(d)
  const { noLimitM, metres } = d.eye!.distances[0]!
  expect(noLimitM).toBeGreaterThan(metres.tenSeconds)
  expect(eye).toEqual({
    of: 'eye',
    what: 'Eyes: no limit is reached beyond',
    figure: `${noLimitM}\u00a0m`,
    reached: true,
  })
  expect(leadDistances({ ...d, eye: null })[0]).toMatchObject({ figure: 'no light', reached: false })
})

test('what burns by its farthest material; where none is reached, the share of the nearest', () => {
  const [, fire, skin] = leadDistances(d)
  const far = Math.max(...d.clear.filter((c) => /fire|glows/.test(c.harm)).map((c) => c.clearDistanceMm), 0)
  expect(fire!.reached).toBe(true)
  expect(Number.parseFloat(fire!.figure)).toBeGreaterThanOrEqual(far / 1000)
  expect(Number.parseFloat(fire!.figure)).toBeLessThan((1.1 * far) / 1000)
  expect(skin!.what).toBe('Bare skin')
  const [, near] = leadDistances(fakeDanger(gannetHead(), 2.9))
  expect(near).toEqual({ of: 'fire', what: 'What burns, of its limit', figure: '97 %', reached: false })
})
