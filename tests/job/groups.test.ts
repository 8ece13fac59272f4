import { expect, test } from 'vitest'
import { partsList } from '../../src/bill/partsList.ts'
import { brightestLight } from '../../src/job/power/brightest.ts'
import { lampOperatingPoint, modeOperatingPoint } from '../../src/job/power/light.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Group, Lamp, Mode } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

/** 19 boards of 7 emitters: B1 alone, then six, then twelve, each with a relay. */
const RELAY = { maxA: 12, milliohm: 0, maxV: 60, breaksA: 60 }
const sizes = [1, 6, 12] as const
const named = ['inner', 'middle', 'outer'] as const
const groupOf = (i: number) => (i < 1 ? 'inner' : i < 7 ? 'middle' : 'outer')
const mode = (id: string, share: number, groupsOff?: string[]): Mode => ({
  ...{ id, name: id, share, stepDown: null },
  ...(groupsOff ? { groupsOff } : {}),
})

function lamp(modes: Mode[], over: Partial<Group> = { relay: RELAY }): Lamp {
  const base = gannetHead()
  const power = base.power!
  const groups = named.map((id) => ({ id, name: id, driver: power.groups[0]!.driver, wired: 'each' as const, ...over }))
  return {
    ...base,
    boards: base.boards.map((b, i) => ({ ...b, group: groupOf(i) })),
    power: { ...power, groups, modes },
  }
}
const ALONE = mode('alone', 1, ['inner', 'outer'])
const ALL = mode('all', 1)

test('a mode’s light leaves out the groups that are off; those that are on give what they give in a mode of all', () => {
  const l = lamp([ALONE, ALL])
  const at = (id: string) => modeOperatingPoint(l, id, 0)!.fluxLm
  const [alone, all] = [at('alone'), at('all')]
  const each = 7
  const isOn = (k: number) => groupOf(Math.floor(k / each)) === 'middle'
  expect([...alone].map((lm) => lm > 0)).toEqual([...alone].map((_, k) => isOn(k)))
  for (const [k, lm] of alone.entries())
    if (isOn(k)) expectWithin(lm, all[k]!, { abs: 0.02 * lm, because: 'the pack sags less' })
  const beam = lampOperatingPoint({ ...l, heat: { kind: 'mode', mode: 'alone', seconds: 0 } })
  expect([...beam.fluxLm]).toEqual([...alone])
})

test('currents by hand: six of nineteen like channels draw 6/19 of all, and a group’s wires carry its own', () => {
  const { worst, groups, wiring } = runPower(lamp([ALONE, ALL]), { mode: '' })
  const [alone, all] = worst.modes
  // Both at cut-off of the pack; the main wires' own drop differs by a few per mille.
  expectWithin(alone!.lastingA.value, (all!.lastingA.value * 6) / 19, { abs: 0.1, because: 'drop in the main wires' })
  expect(groups.map((g) => [g.id, g.boards, g.byMode.map((m) => m.amps !== null)])).toEqual([
    ['inner', 1, [false, true]],
    ['middle', 6, [true, true]],
    ['outer', 12, [false, true]],
  ])
  for (const [i, g] of groups.entries())
    expectWithin(g.byMode[1]!.amps!, (all!.lastingA.value * sizes[i]!) / 19, { abs: 0.05, because: 'like channels' })
  // 1.25 times, the next of the R10 series (IEC 60059): 12/19 of some 30 A is 18.9 A, so 25 A.
  const outer = groups[2]!
  expect([10, 12.5, 16, 20, 25, 31.5, 40].find((r) => r >= 1.25 * outer.lastingA.value)).toBe(outer.ratingA)
  expect(wiring.filter((w) => w.part === 'channel').map((w) => w.boards)).toEqual(new Array(19).fill(1))
})

test('a relay too small for its group is severe, and the parts list has one for each group', () => {
  const l = lamp([ALONE, ALL], { relay: { ...RELAY, maxA: 5 } })
  const found = powerFindings(l, runPower(l, { mode: '' })).filter((f) => f.rule === 'relay-over-current')
  expect(found.map((f) => [f.severity, f.parts])).toEqual([
    ['severe', ['relay middle']],
    ['severe', ['relay outer']],
  ])
  const relays = partsList(l).parts.filter((p) => p.size.of === 'relay')
  expect(relays.map((p) => [p.key, p.amount, p.name])).toEqual(named.map((id) => [`relay:${id}`, 1, id]))
})

test('a feed’s ohms by hand: it drops what six channels draw together, and its own fuse protects what hangs on it', () => {
  const feed = {
    gauge: { system: 'awg', number: 14 },
    lengthMm: 1000,
    connectors: 0,
    fuse: { amps: 15, volts: 58 },
  } as const
  const { wiring } = runPower(lamp([ALL], { relay: RELAY, feed }), { mode: '' })
  const run = wiring.find((w) => w.id === 'group middle')!
  const own = wiring.filter((w) => w.part === 'channel' && w.group === 'middle')
  // Copper of 1.7241e-8 Ωm (IEC 60028), AWG 14 2.0806 mm² (ASTM B258), as warm as the insulation's limit.
  const ohm = (2 * 1.7241e-8 * (1 + 0.00393 * (run.insulationC - 20))) / 2.0806e-6
  expectWithin(run.dropV, run.amps * ohm, { abs: 1e-3, because: 'rounded area' })
  expectWithin(
    run.amps,
    own.reduce((sum, w) => sum + w.amps, 0),
    { abs: 1e-9, because: 'Kirchhoff' },
  )
  expect([run.boards, run.to, own[0]!.from]).toEqual([6, 'group “middle” (through fuse and relay)', 'group “middle”'])
  expect(run.protectedBy).toEqual({ amps: 15, volts: 58, at: 'group' })
  expect(run.fuse).toEqual(feed.fuse)
  // The main fuse answers for its own wire alone: every group has a fuse.
  const main = wiring.find((w) => w.part === 'main')!
  expect(main.weakest).toBe(main.gaugeWords)
})

test('off runs longer and cooler; welded it is judged with all groups on, unless a mode like it is there', () => {
  const report = runPower(lamp([ALONE]))
  const all = runPower(lamp([ALL])).modes[0]!
  const top = (x: ArrayLike<number>) => Math.max(...Array.from(x))
  const [own] = report.modes
  expect(top(own!.curves.plateMaxC)).toBeLessThan(top(all.curves.plateMaxC))
  expect(own!.limit.atS).toBeGreaterThan(all.limit.atS)
  // Welded, it is the mode with every group on.
  expect(top(own!.welded!.curves.plateMaxC)).toBeCloseTo(top(all.curves.plateMaxC), 6)
  expect(runPower(lamp([ALONE, ALL]), { mode: 'alone' }).modes[0]!.welded).toBe(null)
})

test('the brightest light has every group on, also where no mode has', () => {
  const { fluxLm, from } = brightestLight(lamp([ALONE, mode('low', 0.3)]))
  const all = brightestLight(lamp([ALL])).fluxLm
  for (const [k, lm] of fluxLm.entries()) expectWithin(lm, all[k]!, { abs: 1e-6 * lm, because: 'the same start' })
  expect(from).toContain('every group on')
})

test('emitters are judged with every group on; supply and fuses by the modes as they are', () => {
  const own = lamp([mode('alone', 1.4, ['outer']), mode('low', 0.2)])
  const { worst } = runPower(own, { mode: '' })
  const outer = worst.channels.find((c) => c.ids.includes('B19'))!
  const inner = worst.channels.find((c) => c.ids.includes('B1'))!
  expectWithin(outer.emitterA.value, inner.emitterA.value, { abs: 1e-9, because: 'a like driver at the like share' })
  expect(outer.lastingInA.value).toBeLessThan(0.3 * inner.lastingInA.value)
})
