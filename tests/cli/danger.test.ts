import { describe, expect, test } from 'vitest'
import { lampwright } from './kit.ts'

describe('danger --json', () => {
  test('one object with the promised entries, every figure a number, nothing else on stdout; what is severe on stderr as well', async () => {
    const ran = await lampwright(['danger', 'demo', '--json', '--rays', '60000', '--seed', '3'])
    expect(ran.status).toBe(0)
    expect(ran.err).toMatch(/^7 severe findings, the first: A plastic bag over the lens melts in .+\.\n$/)
    const d = JSON.parse(ran.out)
    expect(d).toMatchObject({ lamp: 'Gannet Head', seed: 3, rays: 60_000, discMm: 10 })
    expect(d.frontFoci.length).toBeGreaterThan(0)
    for (const f of d.frontFoci)
      for (const key of ['zMm', 'xMm', 'yMm', 'kWm2', 'discMm']) expect(f[key], key).toBeTypeOf('number')
    expect(Object.keys(d.clearDistanceMm)).toEqual(
      'skin dry-grass paper dark-cloth timber lit-surface black-plastic pvc synthetic-cloth polyethylene car-paint'.split(
        ' ',
      ),
    )
    expect(d.clearDistanceMm.skin).toBeGreaterThan(1000)
    for (const p of d.sunByTilt) {
      for (const key of ['tiltDeg', 'azimuthDeg', 'kWm2', 'xMm', 'yMm', 'zMm']) expect(p[key], key).toBeTypeOf('number')
      expect(['board', 'face', 'wall', 'air']).toContain(p.where)
    }
    for (const part of ['lens', 'wall', 'boards']) expect(d[part].settlesC, part).toBeGreaterThan(20)
    expect(d.eye.distancesM.map((e: { angleDeg: number }) => e.angleDeg)).toEqual([0, 10, 20, 30, 45])
    expect(d.eye.lead).toEqual({ metres: 240, seconds: null })
    expect(d.eye.throughGlassesM).toMatchObject({ magnification: 7, objectiveMm: 50, noLimit: 1600 })
    expect(['exempt', 'RG1', 'RG2', 'RG3']).toContain(d.eye.riskGroup.at200.group)
    expect(d.eye.visualInterference.levels.length).toBe(3)
    expect(d.eye.flicker).toEqual([])
    expect(ran.out).not.toMatch(/NaN|Infinity/)
  })
  test('figures are upper ends: the value and 2.131 standard errors', async () => {
    const d = JSON.parse((await lampwright(['danger', 'demo', '--json'])).out)
    expect(d.frontFoci[0].kWm2).toBeCloseTo(20 + 2.131 * 0.1, 9)
    expect(d.sunByTilt[0].kWm2).toBeCloseTo(900 + 2.131 * 0.5, 9)
  })
  test('a lamp without lens and tunnel: what isn’t there is null, with its reason', async () => {
    const d = JSON.parse((await lampwright(['danger', 'stile-lamp', '--json'])).out)
    expect(d).toMatchObject({ lens: null, wall: null, bareLens: null })
    expect(d.absent.lens).toMatch(/no lens/)
    expect(d.absent.wall).toMatch(/no tunnel/)
  })
})

describe('danger as text', () => {
  test('distances, times, sun, eyes, cover rule, checks before power, sources; no line too wide', async () => {
    const { out, status } = await lampwright(['danger', 'demo', '--rays', '40000'])
    expect(status).toBe(0)
    expect(out).toMatch(/^Gannet Head: danger sheet\n40,000 rays/)
    expect(out).toMatch(/Bare skin +\d[\d.]* m {2}hurts from 1 kW\/m²/)
    expect(out).toMatch(/A wooden wall at 0\.3 m +timber/)
    expect(out).toMatch(/5° off +[\d,]+ kW\/m² {2}board B\d+/)
    expect(out).toMatch(/worst place +0\.61 m +5\.7 m +77 m +240 m/)
    expect(out).toContain('Keep 240 m away: no limit is reached beyond.')
    expect(out).toMatch(/By screening: risk group \d \(\w+\) at 200 mm; the exempt group at 100 m/)
    expect(out).toMatch(/Drivers and pilots, .*flash blindness to/)
    expect(out).toContain('laboratory')
    expect(out).toContain('Before power\n')
    expect(out).toContain('Local codes and licensed practice come first')
    expect(out).not.toMatch(/NaN|undefined|Infinity|\[object|null/)
    for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(120)
  })
  test('shows progress on a terminal, and clears the line', async () => {
    const { err } = await lampwright(['danger', 'stile-lamp'], { columns: 100 })
    expect(err).toMatch(/the sun from every side/)
    expect(err.split('\r\x1b[K').at(-1)).toMatch(/^(\d+ severe findings, the first: .+\n)?$/)
  })
  test('is refused what it can’t use', async () => {
    expect(await lampwright(['danger'])).toMatchObject({ status: 2, out: '' })
    expect((await lampwright(['danger', 'demo', '--threads', 'x'])).status).toBe(2)
  })
})
