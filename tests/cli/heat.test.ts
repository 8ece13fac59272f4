// lampwright heat and wiring.

import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { writeLampText } from '../../src/lamp/read.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { LampFault } from '../../src/run/validate.ts'
import { lampwright, scratch } from './kit.ts'

describe('heat', () => {
  test('a block for each mode: one line, curves, the account, then findings', async () => {
    const { status, out, err } = await lampwright(['heat', 'demo'])
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toMatch(/^Gannet Head\n133 emitters on 19 channels, air of 20 °C/)
    const flat = out.replace(/\s+/g, ' ')
    expect(flat).toMatch(
      / Low: [\d.]+ min until a touch of a minute burns \(plate at 51 °C\), [\d.]+ h until the pack is empty/,
    )
    expect(flat).toMatch(
      / High: [\d.]+ min until a touch of ten seconds burns \(plate at 55 °C\), [\d.]+ min until plastic optics on the face \([^)]*\) pass 70 °C, steps down to 50 % after [\d.]+ min/,
    )
    expect(flat).toMatch(/ Turbo: [\d.]+ s until a touch of .*? [\d.]+ min until board B1 reaches 140 °C; let it cool/)
    expect(out).toMatch(/after +lm +junction °C +plate °C +mean °C +supply V +A +charge/)
    expect(out).toMatch(/Energy in +[\d.]+ +Wh +100\.00 +%/)
    expect(out).toMatch(/Sum +[\d.]+ +Wh +100\.00 +%/)
    expect(out).toContain('Findings on heat and power')
    expect(out).not.toMatch(/NaN|undefined|Infinity/)
  })

  test('a lamp that traps its light has no beam sheet, but its heat with all of that light', async () => {
    // Clear, and so short for its width that light is totally reflected from groove to groove.
    const shape = {
      kind: 'fresnel',
      zMm: 101,
      focalMm: 3.77,
      diameterMm: 47,
      aperture: 'round',
      thicknessMm: 100,
    } as const
    const grooves = { grooves: 'target', pitchMm: 0.4546, draftDeg: 0, tipShare: 0.398 } as const
    const lens = { ...shape, ...grooves, material: 'crown', designNm: 780 } as const
    const path = join(scratch(), 'short.lamp.json')
    writeFileSync(path, writeLampText({ ...benchCheck(), lens }))
    const change = () => {
      throw new LampFault('Too much of the light goes to and fro.')
    }
    expect(await lampwright(['trace', path], { change })).toMatchObject({
      status: 2,
      err: 'Too much of the light goes to and fro.\n',
    })
    const { status, out, err } = await lampwright(['heat', path], { change })
    expect({ status, err }).toEqual({ status: 0, err: '' })
    const [, face] = /Light that stays in the lamp: ([\d.]+) % on the face/.exec(out.replace(/\s+/g, ' '))!
    expect(Number(face)).toBeGreaterThan(0.5)
  })

  test('--mode takes one, by name or by id; another is refused with a guess', async () => {
    for (const name of ['turbo', 'Turbo']) {
      const { out } = await lampwright(['heat', 'demo', '--mode', name])
      expect(out).toMatch(/^Turbo: /m)
      expect(out).not.toMatch(/^Low: /m)
    }
    expect(await lampwright(['heat', 'demo', '--mode', 'trubo'])).toMatchObject({
      status: 2,
      out: '',
      err: 'No mode called trubo (did you mean turbo?); there is low, high, turbo.\n',
    })
  })

  test('--json: one object; curves and account as long as their times', async () => {
    const { out } = await lampwright(['heat', 'demo', '--mode', 'high', '--json'])
    const reported = JSON.parse(out)
    expect(reported).toMatchObject({ lamp: 'Gannet Head', emitters: 133, channels: 19, ambientC: 20 })
    const [mode] = reported.modes
    expect(mode).toMatchObject({ id: 'high', limit: { kind: 'empty' }, steppedDown: { toShare: 0.5 } })
    const n = mode.curves.tS.length
    for (const name of ['lm', 'junctionMaxC', 'plateMaxC', 'plateMeanC', 'supplyV', 'supplyA'])
      expect(mode.curves[name]).toHaveLength(n)
    for (const series of Object.values(mode.energy)) expect(series).toHaveLength(n)
    expect(reported.findings[0]).toHaveProperty('cure')
    expect(mode.fromFull).toBeNull()
    expect(reported.worst.fullV).toBe(42)
  })

  test('a sink by its data sheet: what it is, what it takes of what it may, and its base', async () => {
    const path = join(scratch(), 'rated.lamp.json')
    const lamp = gannetHead()
    const sink = { kind: 'rated', resistanceKW: 0.15, heatCapacityJK: 1500, flow: 'forced', maxW: 300 } as const
    writeFileSync(path, writeLampText({ ...lamp, cooling: { ...lamp.cooling!, sink } }))
    const { status, out } = await lampwright(['heat', path, '--mode', 'turbo'])
    expect(status).toBe(0)
    const flat = out.replace(/\s+/g, ' ')
    expect(flat).toContain('kg, sink by its data sheet 0.15 K/W, 1,500 J/K, forced flow, 6.6')
    expect(flat).toMatch(/Into the sink up to \d+\.?\d* W \(its data sheet permits 300 W\); its base up to \d+ °C\./)
    expect(flat).toContain('SEVERE The sink takes ')
    const { modes, sink: facts } = JSON.parse((await lampwright(['heat', path, '--mode', 'turbo', '--json'])).out)
    expect(facts.rated).toEqual(sink)
    expect(modes[0].curves.sinkW).toHaveLength(modes[0].curves.tS.length)
    expect(modes[0].limits[0]).toMatchObject({ limit: 'sink' })
  })

  test('the short trace measures what light stays; a lamp without boards needs none', async () => {
    const ran = await lampwright(['heat', 'demo', '--mode', 'turbo'])
    expect(ran.asked!.options.maxRays).toBeLessThanOrEqual(100_000)
    const path = join(scratch(), 'bare.lamp.json')
    writeFileSync(path, writeLampText({ ...gannetHead(), boards: [] }))
    const bare = await lampwright(['heat', path])
    expect(bare).toMatchObject({ status: 0, asked: null })
    expect(bare.out).toMatch(/0 emitters on 0 channels/)
  })
})

describe('wiring', () => {
  test('drivers, every run, what to buy', async () => {
    const { status, out, asked: requests } = await lampwright(['wiring', 'demo'])
    expect({ status, asked: requests }).toEqual({ status: 0, asked: null })
    expect(out).toContain('133 emitters on 19 channels')
    expect(out).toMatch(
      /×19 +branching place +19 drivers +AWG 20 +600 mm +1\.57 A +5\.0 A .* 3 A, 58 V +red, black +Turbo, 30\.0 V/,
    )
    expect(out).toMatch(/AWG 8 +1,500 mm +29\.80 A +50\.0 A/)
    expect(out).toContain('Current into a short circuit: 1,010 A at the supply')
    expect(out).toMatch(/AWG 20 red +11\.40 m/)
    expect(out).toContain('Fuse every channel')
  })

  test('--csv: a head and a line for each kind of run, as many fields in each', async () => {
    const { out } = await lampwright(['wiring', 'demo', '--csv'])
    const lines = out.trimEnd().split('\r\n')
    expect(lines).toHaveLength(1 + 3)
    expect(lines[0]).toMatch(/^run,count,channel,from,to,gauge,length_mm/)
    const bare = lines.map((l) => l.replace(/"[^"]*"/g, 'q').split(',').length)
    expect(new Set(bare)).toEqual(new Set([26]))
  })

  test('--json: every run, the rows, the worst case, what to buy and the findings', async () => {
    const { out } = await lampwright(['wiring', 'demo', '--json'])
    const list = JSON.parse(out)
    expect(list).toMatchObject({ lamp: 'Gannet Head', faults: { supplyA: 1008 }, worst: { fullV: 42, emptyV: 30 } })
    expect(list.wiring).toHaveLength(1 + 2 * 19)
    expect(list.rows.map((r: { count: number }) => r.count)).toEqual([1, 19, 19])
    expect(list.bill[0]).toMatchObject({ what: 'AWG 8 red', amount: 1.5, remarks: [] })
    expect(list.findings[0]).toHaveProperty('cure')
  })

  test('a dangerous part is never listed without what was found about it', async () => {
    const path = join(scratch(), 'thin.lamp.json')
    const lamp = gannetHead()
    const { harness } = lamp.power!
    const channel = { ...harness.channel, fuse: { amps: 15, volts: 58 } }
    const board = { ...harness.board, gauge: { system: 'awg' as const, number: 26 } }
    writeFileSync(path, writeLampText({ ...lamp, power: { ...lamp.power!, harness: { ...harness, channel, board } } }))
    const { out: text, err } = await lampwright(['wiring', path])
    expect(err).toMatch(/^3 severe findings, the first: 19 channel fuses of 15 A/)
    expect(text).toMatch(
      /branching place +19 drivers.*\n +SEVERE: 19 channel fuses of 15 A on AWG 20 and, after it, AWG 26/,
    )
    expect(text).toMatch(/fuse 15 A, 58 V +19\n +SEVERE: 19 channel fuses/)
    expect(text).toMatch(/AWG 26 white .*\n +SEVERE: 19 runs to a board: 2 A through AWG 26, which bears 1 A\./)
    const { out } = await lampwright(['wiring', path, '--csv'])
    expect(out).toMatch(/B1 in,19,.*SEVERE: 19 channel fuses of 15 A/)
    expect(JSON.parse((await lampwright(['wiring', path, '--json'])).out).rows[1].remarks[0]).toMatchObject({
      severity: 'severe',
    })
  })

  test('--csv: no name becomes a formula', async () => {
    const path = join(scratch(), 'odd.lamp.json')
    const lamp = gannetHead()
    const supply = { ...lamp.power!.supply, name: '=HYPERLINK("x")' }
    writeFileSync(path, writeLampText({ ...lamp, power: { ...lamp.power!, supply } }))
    const { out } = await lampwright(['wiring', path, '--csv'])
    expect(out).toContain(`"'=HYPERLINK(""x"")"`)
  })
})
