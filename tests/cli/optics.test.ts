// lampwright optics: the way of the light in words, and reflectors into files of their own.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Tunnel } from '../../src/lamp/schema.ts'
import { WALL_FINISHES } from '../../src/library/wallFinishes.ts'
import { lampwright, scratch } from './kit.ts'

const tunnelIn = (path: string): Tunnel => JSON.parse(readFileSync(path, 'utf8')).tunnel

test('of an example, in words; nothing is written', async () => {
  const { status, out, err } = await lampwright(['optics', 'demo'])
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out.replace(/\s+/g, ' ')).toBe(
    'Gannet Head Stretch from 14 to 1040 mm, round, 200 mm to 560 mm: sends back 88 %, 90 % of it as from a mirror blurred by 1°. Fresnel lens at 1050 to 1054 mm, 560 mm round, focal length 1100 mm, grooves of 0.5 mm towards the target, 3 mm of acrylic (PMMA). ',
  )
})

describe('a reflector', () => {
  test('concentrator over the emitters of a lamp without tunnel: needs a finish; mouth 30/sin 20°', async () => {
    const to = join(scratch(), 'cpc.lamp.json')
    const args = ['optics', 'stile-lamp', '--concentrator', '20:30', '--to', to]
    expect((await lampwright(args)).err).toBe(
      'The lamp has no tunnel to take the finish from: --finish FINISH (see --list).\n',
    )
    const { status, out } = await lampwright([...args, '--finish', 'silvered-film'])
    expect(status).toBe(0)
    expect(out).toMatch(/\d+ stretches of one curve from 12 to 173\.7 mm, round, 30 mm to 87\.71 mm: Silvered mirror/)
    expect(out).toContain(`Wrote ${to}.`)
    expect(tunnelIn(to).outMm).toBeCloseTo(30 / Math.sin(Math.PI / 9), 5)
    expect(tunnelIn(to).joints![0]).toMatchObject({ finish: 'Silvered mirror film' })
  })
  test('paraboloid about the emitters, 12 mm high; one with emitters outside says so', async () => {
    const to = join(scratch(), 'dish.lamp.json')
    const { status, err } = await lampwright(['optics', 'demo', '--paraboloid', '30:100:300', '--to', to])
    // z = 12 − 30 + r²/120
    expect(status).toBe(0)
    expect(tunnelIn(to)).toMatchObject({ zInMm: 2.833333, inMm: 100, outMm: 300, zOutMm: 169.5, reflectance: 0.88 })
    expect(err).toMatch(/outside the tunnel/)
  })
  test('a file that is there stays, unless told', async () => {
    const to = join(scratch(), 'there.json')
    writeFileSync(to, 'mine')
    const args = ['optics', 'demo', '--finish', 'white-paint', '--to', to]
    expect(await lampwright(args)).toMatchObject({
      status: 2,
      err: `${to} is there already and stays as it is; --force writes over it.\n`,
    })
    expect(readFileSync(to, 'utf8')).toBe('mine')
    expect((await lampwright([...args, '--force'])).status).toBe(0)
    expect(tunnelIn(to)).toMatchObject({ finish: 'White matt paint', specularShare: 0.03, inMm: 200 })
  })
})

describe('refused in words, and nothing written', () => {
  const to = () => join(scratch(), 'none.json')
  test.each([
    [['--paraboloid', '30:80'], '--paraboloid: "30:80" does not fit; expected FOCAL:NECK:RIM, numbers.'],
    [['--paraboloid', '30:80:x'], '--paraboloid: "30:80:x" does not fit; expected FOCAL:NECK:RIM, numbers.'],
    [['--paraboloid', '30:80:60'], 'A rim of 60 mm is no wider than the neck of 80 mm.'],
    [['--concentrator', '95:30'], 'The acceptance angle lies between 0° and 90°.'],
    [['--concentrator', '20:30', '--paraboloid', '30:100:300'], '--paraboloid or --concentrator, not both.'],
    [
      ['--concentrator', '10:250'],
      /^The reflector doesn’t fit this lamp:\n {2}lens\.zMm: the lens reaches back to 1050 mm, into/,
    ],
    [['--finish', 'white-pain'], /^No finish white-pain \(did you mean white-paint\?\); there is silvered-film, /],
    [[], '--to: nothing is changed; give --paraboloid, --concentrator or --finish.'],
  ] as const)('%j', async (args, why) => {
    const path = to()
    const { status, err } = await lampwright(['optics', 'demo', ...args, '--to', path])
    expect(status).toBe(2)
    expect(err).toMatch(why)
    expect(existsSync(path)).toBe(false)
  })
  test('without a file to go into', async () => {
    expect((await lampwright(['optics', 'demo', '--finish', 'white-paint'])).err).toBe(
      'A changed lamp goes into a file: --to FILE.\n',
    )
  })
})

test('--list prints every finish with its figures', async () => {
  const { out } = await lampwright(['optics', '--list'])
  for (const f of WALL_FINISHES) expect(out).toContain(f.name)
  expect(out).toMatch(/^aluminium-foil +85\.8 ± 5 % +75 % mirror +5° {2}Aluminium foil, bright side$/m)
})
