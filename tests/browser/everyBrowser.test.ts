// The same page in three browsers: what is opened, edited, looked at, saved, printed and opened without a network, and the same figures to the last digit.
import { afterAll, expect, inject, test, vi } from 'vitest'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import { benchCheck } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { sunless } from '../kit/sunless.ts'
import { openChromium } from './drivers/chromium.ts'
import { type Driven, ENTER, ESCAPE } from './drivers/driven.ts'
import { openFirefox } from './drivers/firefox.ts'
import { openWebKit } from './drivers/webkit.ts'
import { serve } from './serve.ts'

vi.setConfig({ testTimeout: 300_000 })

const SIZE = [1280, 800] as const
const BROWSERS: Record<string, () => Promise<Driven>> = {
  Chromium: () => openChromium(inject('chromiumAt'), ...SIZE),
  Firefox: () => openFirefox(...SIZE),
  WebKit: () => openWebKit(...SIZE),
}

const opened: Driven[] = []
afterAll(async () => {
  for (const page of opened) await page.close()
})

/** Every tile of the beam sheet, once it has settled, and the rays that it took. */
const SETTLED = `
await until('a settled sheet', () => find('button', /^Trace: settled/))
return [...document.querySelectorAll('.sheet-tile')].map((tile) => tile.textContent)`

const sheets: Record<string, string[]> = {}

test.each(Object.keys(BROWSERS))(
  '%s: a lamp is opened, settles, is edited, looked at in four views, saved, printed, and opened again without its server',
  async (name) => {
    const page = await BROWSERS[name]!()
    opened.push(page)
    const server = await serve(inject('pageIn'))
    await page.goTo(`${server.at}?engine=cpu`)
    const lamp = amount(sunless(benchCheck()), benchCheck())
    await page.run(`
    window.faults = []
    window.addEventListener('error', (e) => window.faults.push(e.message))
    window.addEventListener('unhandledrejection', (e) => window.faults.push(String(e.reason)))
    await until('the page', () => find('[role=tab]', /^Section/))
    const carried = new DataTransfer()
    carried.items.add(new File([${JSON.stringify(writeLampText(lamp))}], 'bench.lamp.json', { type: 'application/json' }))
    window.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }))
    await until('the lamp that was dropped', () => document.title.startsWith(${JSON.stringify(`${lamp.name} `)}))`)
    sheets[name] = await page.run<string[]>(SETTLED)
    expect(sheets[name]!.length).toBeGreaterThan(4)

    // Typed with real keys; Enter takes the value.
    const [x, y] = await page.run<[number, number]>(`
      const field = find('input[role=spinbutton]', 'Distance')
      field.scrollIntoView({ block: 'center' })
      const box = field.getBoundingClientRect()
      return [box.x + box.width / 2, box.y + box.height / 2]`)
    await page.click(x, y)
    // A Firefox without a screen tells its page of no focus, on which the field takes up all that it holds.
    await page.run('if (!document.hasFocus()) document.activeElement.select()')
    await page.press(`7${ENTER}`)
    await page.run(`await until('the edit', () => find('button', /^Undo/)?.disabled === false)
      find('button', 'Pause the trace')?.click()`)

    for (const [key, view] of [...'1234'].map((k, i) => [k, ['Plan', 'Section', 'Solid', 'Night'][i]!] as const)) {
      await page.run('document.activeElement?.blur()')
      await page.press(`${ESCAPE}${key}`)
      // Where a browser gives no WebGL 2, as Firefox on a machine without a graphics card, the view says so in words.
      const drawn = await page.run<boolean>(`
      const panel = await until('${view}', () => find('[role=tabpanel]', /^${view}/))
      return until('a drawing in ${view}', () =>
        [...panel.querySelectorAll('canvas')].some((c) => c.width > 200 && c.height > 200) || /gives the page no WebGL 2/.test(panel.textContent))`)
      expect(drawn, view).toBe(true)
    }

    const saved = await page.run<string>(`
    const files = []
    const make = URL.createObjectURL
    URL.createObjectURL = (blob) => { files.push(blob); return make.call(URL, blob) }
    find('button', 'Save').click()
    await until('a file', () => files.length > 0)
    return files[0].text()`)
    const read = readLampText(saved)
    expect(read.ok && read.lamp).toEqual({ ...lamp, target: { ...lamp.target, distanceM: 7 } })

    // What goes to the printer; Chromium's test looks at its pages (print.test.ts).
    const paper = await page.run<string>(`
      window.dispatchEvent(new Event('beforeprint'))
      const text = document.querySelector('.printed')?.textContent ?? ''
      window.dispatchEvent(new Event('afterprint'))
      await until('the page without it', () => !document.querySelector('.printed'))
      return text`)
    for (const words of [lamp.name, 'Never look into the beam', 'Section, 1 : 2']) expect(paper).toContain(words)
    expect(await page.run('return window.faults')).toEqual([])

    // Without its server, the lamp as it was.
    await page.run(`await until('all files', () => find('.shell-foot p', /opens without a network/))`)
    server.close()
    await page.goTo(`${server.at}?engine=cpu&again`)
    await page.run(`
      await until('the lamp without a server', () => document.title.startsWith(${JSON.stringify(`${lamp.name} `)}))
      await until('its edit', () => find('input[role=spinbutton]', 'Distance')?.value === '7')
      find('button', 'Pause the trace')?.click()`)
  },
)

test('the same figures in all of them', () => {
  expect(Object.keys(sheets)).toEqual(Object.keys(BROWSERS))
  for (const name of Object.keys(BROWSERS)) expect(sheets[name], name).toEqual(sheets['Chromium'])
})
