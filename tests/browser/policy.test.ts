// The page's Content-Security-Policy. Every other browser test holds it too: a violation is an error on the console, which the harness refuses.
import { expect, test } from 'vitest'
import { show } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

/** How Chromium words what a policy has refused. */
const REFUSED = /Content Security Policy/

test('the page works under its own policy, which refuses code from text, styles and scripts in the page, and every other origin', async () => {
  const page = await open({
    expects: REFUSED,
    untraced: true,
    // From the very beginning: what is asked while the page loads counts as well.
    before: (p) =>
      p.addInitScript(() => {
        const seen: string[] = []
        Object.assign(window, { violations: seen })
        document.addEventListener('securitypolicyviolation', (e) =>
          seen.push(`${e.effectiveDirective} ${e.blockedURI}`),
        )
      }),
  })
  const violations = () =>
    page.evaluate(() => (window as unknown as { violations?: string[] }).violations?.splice(0) ?? [])
  for (const view of ['Plan', 'Solid', 'Night', 'Section'] as const) await show(page, view)
  expect(await violations()).toEqual([])

  const refused = await page.evaluate(async () => {
    const tried: string[] = []
    const attempt = async (name: string, work: () => unknown) => {
      // What the test itself runs may evaluate text; a later task may not.
      await new Promise((next) => setTimeout(next, 0))
      try {
        await work()
      } catch {
        tried.push(name)
      }
    }
    await attempt('eval', () => new Function('return 1')())
    await attempt('fetch', () => fetch('https://elsewhere.example/'))
    return tried
  })
  expect(refused).toEqual(['eval', 'fetch'])
  await page.evaluate(async () => {
    const add = (html: string) => document.body.insertAdjacentHTML('beforeend', html)
    add('<p style="color:red">x</p>')
    add('<img src="https://elsewhere.example/x.png" onerror="alert(1)">')
    const script = document.createElement('script')
    script.textContent = 'window.inline = true'
    document.body.append(script)
    const style = document.createElement('style')
    style.textContent = 'p { color: red }'
    document.body.append(style)
    try {
      new Worker('data:text/javascript,1')
    } catch {}
  })
  await expect
    .poll(violations)
    .toEqual(
      expect.arrayContaining([
        'style-src-attr inline',
        'img-src https://elsewhere.example/x.png',
        'script-src-elem inline',
        'style-src-elem inline',
      ]),
    )
  expect(await page.evaluate(() => 'inline' in window)).toBe(false)
  // WebAssembly is what the tracer runs on; it is the only code that is not a file of this origin.
  expect(await page.evaluate(() => WebAssembly.validate(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0])))).toBe(true)
})
