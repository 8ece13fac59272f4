// lampwright parts.
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Papa from 'papaparse'
import { describe, expect, test, vi } from 'vitest'
import { writeLampText } from '../../src/lamp/read.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lampwright, scratch } from './kit.ts'

vi.setConfig({ testTimeout: 60_000 })

describe('parts', () => {
  test('text: amounts, masses, sums; nothing is traced; the order only when asked for', async () => {
    const { status, out, asked: requests } = await lampwright(['parts', 'demo'])
    expect(status).toBe(0)
    expect(requests).toBe(null)
    expect(out).toMatch(/19 ×\s+Board “Seven on a disc, 1 \+ 6 at 12 mm”\s+74 g, typical/)
    expect(out).toMatch(/12\.54 m\s+Wire, red, to the drivers/)
    expect(out).toContain('Centre of gravity')
    expect(out).not.toContain('Order of assembly')
    expect(Math.max(...out.split('\n').map((l) => l.length))).toBeLessThanOrEqual(110)
  })
  test('--order: steps with parts, checks and cautions', async () => {
    const { out } = await lampwright(['parts', 'demo', '--order'])
    expect(out).toMatch(/^1\. Face plate$/m)
    expect(out).toMatch(/^14\. First power-up of the whole lamp$/m)
    expect(out).toContain('burning glass')
    expect(out).toContain('[ ] The main fuse is 40 A')
  })
  test('--csv, --json and --html', async () => {
    const rows = Papa.parse<Record<string, string>>((await lampwright(['parts', 'demo', '--csv'])).out, {
      header: true,
      skipEmptyLines: true,
    }).data
    expect(rows.find((r) => r['key'] === 'cell')).toMatchObject({ amount: '60', mass_g: '2820', mass_basis: 'stated' })
    const json = JSON.parse((await lampwright(['parts', 'demo', '--json', '--order'])).out)
    expect(json.parts).toHaveLength(rows.length)
    expect(json.order.at(-1)).toMatchObject({ id: 'powerUp', words: { title: 'First power-up of the whole lamp' } })
    expect(JSON.parse((await lampwright(['parts', 'demo', '--json'])).out).order).toBe(undefined)
    expect((await lampwright(['parts', 'demo', '--html'])).out).toMatch(/^<!doctype html>/)
  })
  test('--out writes to a file, and over one only when told', async () => {
    const to = join(scratch(), 'parts.csv')
    expect((await lampwright(['parts', 'demo', '--csv', '--out', to])).out).toContain('Wrote')
    expect(readFileSync(to, 'utf8')).toMatch(/^key,step,part/)
    const again = await lampwright(['parts', 'bench-check', '--csv', '--out', to])
    expect([again.status, again.err]).toEqual([2, expect.stringContaining('--force writes over it')])
    expect(readFileSync(to, 'utf8')).toContain('Fresnel lens')
    expect((await lampwright(['parts', 'bench-check', '--csv', '--out', to, '--force'])).status).toBe(0)
    expect(readFileSync(to, 'utf8')).not.toContain('Fresnel lens')
  })
  test('two forms at once, or an order in a table, are refused', async () => {
    expect((await lampwright(['parts', 'demo', '--csv', '--json'])).err).toContain('two forms')
    expect((await lampwright(['parts', 'demo', '--csv', '--order'])).err).toContain('the parts alone')
    expect((await lampwright(['parts'])).err).toContain('parts needs a lamp file')
  })
  test('a lamp without boards has a list and an order', async () => {
    const path = join(scratch(), 'bare.json')
    writeFileSync(path, writeLampText({ ...gannetHead(), boards: [] }))
    const { status, out } = await lampwright(['parts', path, '--order'])
    expect(status).toBe(0)
    expect(out).toContain('Face plate')
    expect(out).not.toContain('Board “')
  })
  test('names can’t steer the terminal', async () => {
    const path = join(scratch(), 'lamp.json')
    const lamp = gannetHead()
    writeFileSync(
      path,
      writeLampText({
        ...lamp,
        name: 'a\u001b[31m',
        boardTypes: lamp.boardTypes.map((t) => ({ ...t, name: 'b\u001b[2J' })),
      }),
    )
    const { out } = await lampwright(['parts', path, '--order'])
    expect(out).not.toContain('\u001b')
  })
  test('a severe finding is said on stderr', async () => {
    const path = join(scratch(), 'lamp.json')
    const lamp = gannetHead()
    writeFileSync(path, writeLampText({ ...lamp, boards: lamp.boards.map((b) => ({ ...b, currentA: 50 })) }))
    expect((await lampwright(['parts', path, '--csv'])).err).toMatch(/severe finding.*lampwright check\.\n$/)
    expect((await lampwright(['parts', 'demo'])).err).toBe('')
  })
})
