import { availableParallelism } from 'node:os'
import { describe, expect, test } from 'vitest'
import { FIGURE_NAMES, type Sheet } from '../../src/job/beam/sheet.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampwright } from './kit.ts'

describe('trace --json', () => {
  test('is one object with exactly the promised entries, and nothing else on either stream', async () => {
    const ran = await lampwright(['trace', 'demo', '--json', '--rays', '3e6', '--seed', '7', '--threads', '3'])
    expect(ran).toMatchObject({ status: 0, err: '' })
    const sheet = JSON.parse(ran.out)
    expect(Object.keys(sheet).sort()).toEqual(
      'absent engine figures hotSpots lamp ledger light rays raysPerSecond seconds seed threads version'.split(' '),
    )
    expect(sheet).toMatchObject({ lamp: 'Gannet Head', seed: 7, rays: 3e6, threads: 3, engine: 'cpu' })
  })

  test('every figure has value, se and unit, or else a reason', async () => {
    const { figures, absent } = JSON.parse((await lampwright(['trace', 'stile-lamp', '--json'])).out)
    for (const name of FIGURE_NAMES) {
      expect(name in figures, name).not.toBe(name in absent)
      if (name in figures) {
        expect(Object.keys(figures[name])).toEqual(['value', 'se', 'unit'])
        expect(figures[name].value).toBeTypeOf('number')
      } else expect(absent[name].length).toBeGreaterThan(5)
    }
    expect(figures.axialIntensityCd.unit).toBe('cd')
    expect(figures.beamAngleDeg.unit).toBe('deg')
    expect(figures.spillOutsideBeam.unit).toBe('1')
    expect(absent.lens).toBe('the lamp has no lens')
  })

  test('a figure that is no number is left out with a reason, never null', async () => {
    const { out } = await lampwright(['trace', 'demo', '--json'], {
      change: (sheet) => ({
        ...sheet,
        figures: { ...sheet.figures, beamAngleDeg: { value: Number.NaN, se: 0 }, fieldAngleDeg: undefined as never },
        hotSpots: { ...sheet.hotSpots, wall: { ...sheet.hotSpots.wall!, se: Number.POSITIVE_INFINITY } },
      }),
    })
    expect(out).not.toContain('null')
    const { figures, hotSpots, absent } = JSON.parse(out)
    expect(figures.beamAngleDeg ?? figures.fieldAngleDeg ?? hotSpots.wall).toBeUndefined()
    expect(absent.beamAngleDeg).toBe('it came out as no finite number')
    expect(absent.fieldAngleDeg).toBe('this trace did not give it')
    expect(absent.wall).toBe('it came out as no finite number')
  })

  test('the ledger is plain shares that sum to 1; hot spots have their six numbers', async () => {
    const { ledger, hotSpots } = JSON.parse((await lampwright(['trace', 'demo', '--json'])).out)
    const shares = Object.values(ledger) as number[]
    expectWithin(
      shares.reduce((a, b) => a + b, 0),
      1,
      { abs: 1e-12, because: 'rounding of twenty sums' },
    )
    for (const name of ['lens', 'wall', 'face', 'front', 'sunInside'])
      expect(Object.keys(hotSpots[name]), name).toEqual(['kWm2', 'se', 'xMm', 'yMm', 'zMm', 'discMm'])
  })
})

describe('trace as text', () => {
  test('a share without error is called exact, a tiny one keeps its bound', async () => {
    const withSe = (se: number) => (sheet: Sheet) => ({
      ...sheet,
      ledger: sheet.ledger.map((row) => (row.line === 'opticLoss' ? { ...row, share: { ...row.share, se } } : row)),
    })
    const line = async (se: number) => {
      const { out } = await lampwright(['trace', 'demo'], { change: withSe(se) })
      return out.split('\n').find((l) => /12\.000/.test(l))
    }
    expect(await line(0)).toMatch(/12\.000 +exact +%/)
    expect(await line(1e-6)).toMatch(/12\.000 +< 0\.001 +%/)
    expect(await line(1e-4)).toMatch(/12\.000 +± 0\.021 +%/)
  })

  test('shows figures with ± and unit, the ledger and its sum, hot spots, findings and cautions', async () => {
    const { out, err, status } = await lampwright(['trace', 'demo'])
    expect({ err, status }).toEqual({ err: '', status: 0 })
    expect(out).toMatch(/^Severe: cover the lens whenever the lamp is off/)
    expect(out).toMatch(/\n\nGannet Head\n2,000,000 rays, seed 1/)
    expect(out).toMatch(/Axial intensity +[\d,]+ +± [\d,]+ {2}cd\n/)
    expect(out).toMatch(/Beam angle +5\.120 +± 0\.027 {2}°\n/)
    expect(out).toMatch(/Spill outside the beam +39\.00 +± 0\.13 {2}%\n/)
    expect(out).toMatch(/Sum +100\.000 +% /)
    expect(out).toMatch(/In front +41\.20 +± 0\.41 {2}kW\/m² {2}over a disc of 10 mm at x 0, y 3, z 1,670 mm/)
    expect(out).toMatch(/ {2}SEVERE {3}Sun falling in at 0° tilt/)
    expect(out).toMatch(/Do: Cover the lens/)
    expect(out).toContain('Cautions\n')
    expect(out).not.toMatch(/NaN|undefined|Infinity|\[object/)
  })

  test('no line is wider than 120 columns and none ends in a space', async () => {
    for (const demo of ['demo', 'stile-lamp', 'ice-rink', 'bench-check', 'wide-array']) {
      for (const line of (await lampwright(['trace', demo])).out.split('\n')) {
        expect(line.length, line).toBeLessThanOrEqual(120)
        expect(line, demo).toBe(line.trimEnd())
      }
    }
  })

  test('a name from a file steers no terminal', async () => {
    const { out } = await lampwright(['trace', 'demo'], { change: (s) => ({ ...s, lamp: 'a\x1b[2Jb\u202e' }) })
    expect(out).toContain('\n\na[2Jb\n')
  })
})

describe('what trace requests', () => {
  test('the lamp by the name of its example, all the rays, the background work', async () => {
    const { asked: requests } = await lampwright(['trace', 'stile-lamp', '--rays=1_000_000'])
    expect(requests?.lamp).toEqual(stileLamp())
    expect(requests?.options).toEqual({
      maxRays: 1e6,
      seed: 1,
      threads: availableParallelism(),
      engine: 'cpu',
      precision: 0,
      background: true,
      variants: true,
    })
  })

  test('a graphics engine when it is requested', async () => {
    const { asked: requests } = await lampwright(['trace', 'demo', '--engine', 'gpu'])
    expect(requests?.options).toMatchObject({ engine: 'gpu' })
  })

  test('says in the text which engine traced and why, where more than the processor was requested', async () => {
    const text = async (engineWhy: string, engine: 'cpu' | 'gpu') => {
      const { out } = await lampwright(['trace', 'demo'], { change: (s) => ({ ...s, engine, engineWhy }) })
      const lines = out.split('\n')
      return lines[lines.indexOf('Gannet Head') + 2]
    }
    expect(await text('it was asked for', 'cpu')).toBe('')
    expect(await text('no graphics driver for Vulkan is installed here', 'cpu')).toBe(
      'processor: no graphics driver for Vulkan is installed here',
    )
    expect(await text('Some device, maker', 'gpu')).toBe('graphics: Some device, maker')
  })

  test('no variants for JSON, which has no place for them, but the sun', async () => {
    const { asked: requests } = await lampwright(['trace', 'stile-lamp', '--json'])
    expect(requests?.options).toMatchObject({ background: true, variants: false })
  })

  test.each([
    ['--rays', '1e12', '--rays: "1e12" does not fit; expected a whole number from 16 to 1,000,000,000.\n'],
    ['--rays', '12.5', '--rays: "12.5" does not fit; expected a whole number from 16 to 1,000,000,000.\n'],
    ['--rays', '-4', '--rays: "-4" does not fit; expected a whole number from 16 to 1,000,000,000.\n'],
    ['--seed', 'x', '--seed: "x" does not fit; expected a whole number from 0 to 4,294,967,295.\n'],
    ['--threads', '257', '--threads: "257" does not fit; expected a whole number from 0 to 256.\n'],
    ['--engine', 'fast', '--engine: "fast" does not fit; expected cpu, gpu or auto.\n'],
    ['--rays', '', '--rays needs a value: --rays N.\n'],
    ['--ray', '9', 'No option --ray (did you mean --rays?).\n'],
    ['--colour', '9', 'No option --colour.\n'],
    ['--json', '--json', '--json stands twice; once is enough.\n'],
    ['--json=yes', '--seed=1', '--json takes no value.\n'],
    ['--__proto__', '1', 'No option --__proto__.\n'],
    ['-r', '1', 'No option -r.\n'],
  ])('%s %s is refused in words, with nothing on stdout', async (option, value, why) => {
    expect(await lampwright(['trace', 'demo', option, value])).toEqual({ status: 2, out: '', err: why, asked: null })
  })
})

describe('progress', () => {
  test('a bar on a terminal, cleared at the end; nothing on a pipe', async () => {
    const { err, out } = await lampwright(['trace', 'demo', '--json'], { columns: 100 })
    expect(err).toBe(`\r\x1b[K[${'='.repeat(15)}${' '.repeat(15)}]  50 %  1,000,000 of 2,000,000 rays\r\x1b[K`)
    expect(JSON.parse(out).lamp).toBe('Gannet Head')
    expect((await lampwright(['trace', 'demo'])).err).toBe('')
  })

  test('fits a narrow terminal', async () => {
    const { err } = await lampwright(['trace', 'demo'], { columns: 20 })
    expect(err.split('\r\x1b[K')[1]!.length).toBeLessThan(20)
  })

  test('is cleared before an error is printed', async () => {
    const { err, status } = await lampwright(['trace', 'demo'], {
      columns: 100,
      change: () => {
        throw new Error('a worker died')
      },
    })
    expect(err).toMatch(/\r.{1,5}The program failed, which is a fault of its own: a worker died\n$/)
    expect(status).toBe(2)
  })
})
