import { expect, test } from 'vitest'
import { dangerText } from '../../src/cli/dangerText.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { dangerOutline } from '../../src/report/dangerOutline.ts'
import { dangerPage } from '../../src/report/dangerPage.ts'
import { ownPlaceSentences, sunPlaceSentences, turnedSentence } from '../../src/report/dangerPlaces.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const d = fakeDanger(gannetHead())

test('smaller spots are named, but not one that no ray met: it isn’t measured, and not dark', () => {
  const worstByDisc = [{ discMm: 1, kWm2: 0, se: 0 }, ...d.worstByDisc]
  const [first] = ownPlaceSentences({ ...d, worstByDisc })
  expect(first).toMatch(/^Smaller spots at the worst place in front are stronger, kW\/m²: 26\.1 over 3\.5 mm\.$/)
})

test('light beside the beam: how much, where, and what stands near meets', () => {
  const beside = (leakedW: number) => ownPlaceSentences({ ...d, worstByDisc: [], beside: { ...d.beside, leakedW } })
  expect(beside(0.3)).toEqual(['0.3 W leaves beside the beam. It is spread too thinly to harm.'])
  expect(beside(0.05)).toEqual([])
})

test('no tilt is called the axis', () => {
  const at = (tiltDeg: number) =>
    turnedSentence({ ...d, sunDay: { ...d.sunDay!, turned: { kWm2: 900, tiltDeg, plasticSeconds: 0.1 } } })
  expect(at(0)).toBe('Turned so that the sun passes on the axis, the spot gets up to 900 kW/m² that day.')
  expect(at(6.1)).toContain('passes 6.1° off the axis')
})

test('labels of the drawing never lie on one another', () => {
  // Reaches that lie close: each level is kept from 0.6 of the one before.
  const metres = [0.62, 0.37, 0.21, 0.12]
  const near = { ...d, clear: metres.map((m, i) => ({ ...d.clear[i]!, kWm2: 3.94 + i, clearDistanceMm: 1000 * m })) }
  const texts = [
    ...dangerOutline(near).matchAll(/<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)" text-anchor="(\w+)">(.*?)</g),
  ].map((m) => {
    // Digits of Helvetica are 0.556 of its size wide (its AFM file, from memory), and hardly a sign of these is wider on average.
    const width = 0.556 * Number(m[3]) * m[5]!.length
    const x = Number(m[1])
    return { y: Number(m[2]), from: m[4] === 'end' ? x - width : x, to: m[4] === 'end' ? x : x + width }
  })
  expect(texts).toHaveLength(4)
  for (const [i, a] of texts.entries())
    for (const b of texts.slice(i + 1)) expect(a.y !== b.y || a.to < b.from || b.to < a.from).toBe(true)
})

test('a search that was coarser than its disc is said on screen, on the terminal and on paper, with the most that it left out', () => {
  const coarse = [
    { light: 'own', zone: 'outside', upToKWm2: 12.31 },
    { light: 'sun', zone: 'inside', upToKWm2: 401 },
  ] as const
  const own =
    'The lamp’s own light beside and behind the lamp: a spot of 1 mm is too small to search all of it. Where it was not searched there may be up to 13 kW/m².'
  const sun =
    'The sun inside: a spot of 1 mm is too small to search all of it. Where it was not searched there may be up to 410 kW/m².'
  const small = { ...d, discMm: 1, coarse: [...coarse] }
  expect(ownPlaceSentences(small).at(-1)).toBe(own)
  expect(sunPlaceSentences(small).at(-1)).toBe(sun)
  const page = JSON.stringify(dangerPage(small, gannetHead()))
  for (const sentence of [own, sun]) expect(page).toContain(sentence)
  const terminal = dangerText(small, gannetHead()).replace(/\s+/g, ' ')
  for (const sentence of [own, sun]) expect(terminal).toContain(sentence)
  expect(JSON.stringify(dangerPage(d, gannetHead()))).not.toContain('too small to search')
})
