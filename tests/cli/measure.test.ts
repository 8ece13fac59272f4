import { readFileSync, writeFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { lampwright, scratch } from './kit.ts'

// Bench Check: one emitter at the focus of an ideal lens; its beam is ± 10 mm about the lens's 200 mm, so that few rays know it.
const FEW = ['--rays', '1024', '--threads', '0']

describe('measure plan', () => {
  test('text: safety first, then how, then places with what the meter will show', async () => {
    const { out, status } = await lampwright(['measure', 'plan', 'stile-lamp', '--wall', '4', '--rays', '256'])
    expect(status).toBe(0)
    expect(out.indexOf('Never look into the lamp')).toBeLessThan(out.indexOf('Wall: 4 m'))
    expect(out).toMatch(/Across the wall\n +across mm +expected lx +lx/)
    expect(out).toMatch(/ANSI\/PLATO FL 1/)
  })

  test('--units inch: the wall in feet, places in inches (0.3048 m, 25.4 mm; 1959)', async () => {
    const { out } = await lampwright([
      'measure',
      'plan',
      'stile-lamp',
      '--wall',
      '4',
      '--rays',
      '256',
      '--units',
      'inch',
    ])
    expect(out).toContain('Wall: 13.1 ft')
    expect(out).toMatch(/Across the wall\n +across in +expected lx +lx/)
    expect(out).toMatch(/distance ft +expected lx/)
    // The kit's severe finding is one plain text.
    expect(out.replace(/Severe finding: .*/, '')).not.toMatch(/\d mm\b/)
  })

  test('the table to fill in is read back once it is filled in', async () => {
    const dir = scratch()
    const path = `${dir}/readings.csv`
    const made = await lampwright([
      'measure',
      'plan',
      'stile-lamp',
      '--wall',
      '4',
      '--rays',
      '256',
      '--csv',
      '--out',
      path,
    ])
    expect(made.status).toBe(0)
    const empty = await lampwright(['measure', 'fit', 'stile-lamp', path])
    expect(empty.status).toBe(2)
    expect(empty.err).toMatch(/no column is filled in/)
    // As expected, to three digits.
    writeFileSync(path, readFileSync(path, 'utf8').replace(/^(-?[\d.]+),([\d.]+),$/gm, '$1,$2,$2'))
    const { out, status } = await lampwright(['measure', 'fit', 'stile-lamp', path, '--class', 'A', '--json', ...FEW])
    expect(status).toBe(0)
    const { fit, figures, warnings } = JSON.parse(out)
    expect(warnings).toEqual([])
    expect(fit.explanations[0].causes).toEqual([])
    expect(fit.asDrawn.birge).toBeLessThan(1)
    expect(figures.map((f: { name: string }) => f.name)).toContain('peakIntensityCd')
  })
})

describe('measure fit', () => {
  test('seven readings by hand (check values 7.21), without a lamp that they belong to', async () => {
    const path = `${scratch()}/seven.csv`
    writeFileSync(path, 'wall: 10 m\nacross mm,lx\n0,8000\n250,6400\n500,3200\n750,1200\n1000,400\n1500,100\n2000,20\n')
    const { out, status } = await lampwright(['measure', 'fit', 'stile-lamp', path, ...FEW])
    expect(status).toBe(0)
    expect(out).toMatch(/Peak +800 ± 120 kcd/)
    expect(out).toMatch(/Beam angle +5\.02/)
    expect(out).toMatch(/Beam distance \(FL 1\) +1,7[89]\d/)
    expect(out).toMatch(/None of what was tried explains the readings/)
  })

  test('--units inch: wall and beam distance in feet', async () => {
    const path = `${scratch()}/five.csv`
    writeFileSync(path, 'wall: 3.048 m\nacross mm,lx\n0,8000\n254,6400\n508,3200\n762,1200\n1016,400\n')
    const { out, status } = await lampwright(['measure', 'fit', 'stile-lamp', path, '--units', 'inch', ...FEW])
    expect(status).toBe(0)
    expect(out).toContain('line on a wall at 10 ft')
    // √(8000 · 3.048² / 0.25) = 545 m = 1789 ft.
    expect(out).toMatch(/Beam distance \(FL 1\) +1,7[89]\d ± \d+ ft/)
    expect(out).toMatch(/ 10 ft, 20 across/)
  })

  test('refusals are one sentence', async () => {
    for (const [args, why] of [
      [[], 'measure needs what to do: plan, fit or picture.'],
      [['look'], 'measure needs what to do: plan, fit or picture, not "look".'],
      [['fit', 'demo'], 'This lamp has no readings of its own; name a file of readings behind it.'],
      [['fit', 'demo', 'none.csv'], 'No file called none.csv.'],
      [['plan', 'demo', '--wall', 'far'], '--wall: "far" does not fit; expected metres from 0.05 to 10,000.'],
    ] as const) {
      expect(await lampwright(['measure', ...args])).toMatchObject({ status: 2, err: `${why}\n` })
    }
  })
})
