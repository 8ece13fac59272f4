// The built page with the demo on Plan.
import type { Page } from 'playwright-core'
import { type ServedPage, withServedPage } from './served.ts'

export const withPlanOpen = <T>(work: (open: ServedPage & { page: Page }) => Promise<T>, card = false): Promise<T> =>
  withServedPage(async (served) => {
    const page = await served.browser.newPage({ viewport: { width: 1280, height: 720 } })
    page.setDefaultTimeout(300_000)
    await page.goto(served.at)
    await page.getByRole('button', { name: /^Dangers:/ }).waitFor()
    await page.locator('body').press('1')
    await page.locator('.plan-live').waitFor()
    return work({ ...served, page })
  }, card)

/** A place on the board in the middle. */
export async function middleOfPlan(page: Page): Promise<[number, number]> {
  const box = await page.locator('.plan-live').boundingBox()
  if (!box) throw new Error('Plan is not on the page.')
  return [box.x + box.width / 2 + 10, box.y + box.height / 2 + 9]
}
