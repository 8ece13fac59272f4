// Contrast of the themes' tokens, of themselves: axe sees only what happens to be on screen.
import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { FATE_GROUPS } from '../../src/app/common/fates.ts'

const css = readFileSync('src/app/theme.css', 'utf8')

/** The colours of a block of rules, by token. */
function tokens(block: string): Map<string, string> {
  const found = [...block.matchAll(/--([a-z-]+): (#[0-9a-f]{3}|#[0-9a-f]{6});/g)]
  return new Map(found.map(([, name = '', hex = '']) => [name, hex]))
}
const [dark = '', light = ''] = css.split(':root[data-theme="light"] {')
const THEMES = { dark: tokens(dark), light: tokens(light.split('}')[0] ?? '') }

/** Relative luminance and contrast ratio: WCAG 2.2, definitions. */
function luminance(hex: string): number {
  const long = hex.length === 4 ? hex.replace(/[0-9a-f]/g, '$&$&') : hex
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(long.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}
function contrast(a: string, b: string): number {
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y)
  return (high + 0.05) / (low + 0.05)
}

const GROUNDS = ['ground', 'sheet', 'raised']
/** WCAG 2.2: 4.5 for text (1.4.3), 3 for what has to be seen of a drawing (1.4.11). */
const TEXT = ['ink', 'ink-quiet', 'ink-faint', 'light', 'steel', 'severe', 'warning', 'note', 'ok']
const DRAWN = ['mark-lichen', 'mark-heather', 'mark-sand']

test.each(['dark', 'light'] as const)('text and marks stand out from every ground of the %s theme', (theme) => {
  const of = (name: string) => THEMES[theme].get(name) ?? `no ${name}`
  for (const ground of GROUNDS) {
    for (const name of TEXT) expect(contrast(of(name), of(ground)), `${name} on ${ground}`).toBeGreaterThan(4.5)
    for (const name of DRAWN) expect(contrast(of(name), of(ground)), `${name} on ${ground}`).toBeGreaterThan(3)
    for (const { name, colour } of FATE_GROUPS)
      expect(contrast(colour[theme], of(ground)), `path ${name} on ${ground}`).toBeGreaterThan(3)
  }
})

test('both themes have the same tokens', () => {
  expect([...THEMES.light.keys()].sort()).toEqual([...THEMES.dark.keys()].sort())
})
