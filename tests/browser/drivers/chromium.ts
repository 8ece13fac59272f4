// Chromium, the one that the other tests have started already.
import { chromium } from 'playwright-core'
import { type Driven, ENTER, ESCAPE, expression, outcome } from './driven.ts'

const NAMED: Record<string, string> = { [ENTER]: 'Enter', [ESCAPE]: 'Escape' }

export async function openChromium(at: string, width: number, height: number): Promise<Driven> {
  const browser = await chromium.connect(at)
  const context = await browser.newContext({ viewport: { width, height } })
  const page = await context.newPage()
  return {
    goTo: async (url) => void (await page.goto(url)),
    run: async <T>(body: string) => outcome<T>(await page.evaluate<string>(expression(body))),
    click: async (x, y) => void (await page.mouse.click(x, y)),
    press: async (keys) => {
      for (const key of keys) await page.keyboard.press(NAMED[key] ?? key)
    },
    close: async () => {
      await context.close()
      await browser.close()
    },
  }
}
