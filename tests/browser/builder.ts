// A builder at work in the parts column or a dialog: real clicks and key strokes, counted as they are made.
import type { Locator, Page } from 'playwright-core'

/** What it took. Keys are characters typed, Enter, and Ctrl + A as one. */
interface Toil {
  clicks: number
  keys: number
  fields: number
}

export interface Builder {
  readonly toil: Toil
  click(what: Locator): Promise<void>
  /** Unfolds a part, by the beginning of its heading, unless it is open. */
  unfold(part: string): Promise<void>
  /** In place of what stands in the field that has the focus: all of it taken up (a number field does so itself), the text, Enter. */
  write(text: string): Promise<void>
  /** Another number into the number field that Enter was pressed in: no click. */
  again(number: string): Promise<void>
  /** A number or a name into a field of a part, which is clicked first. */
  type(part: string, label: string, text: string): Promise<void>
  /** One option of a list (two clicks) or of segments (one). */
  choose(part: string, label: string, option: string): Promise<void>
  /** One of the part's buttons or switches. */
  press(part: string, name: string): Promise<void>
}

/** At work in the parts column, unless elsewhere. */
export function builderOn(
  page: Page,
  column: Locator = page.getByRole('complementary', { name: 'Parts of the lamp' }),
): Builder {
  const toil: Toil = { clicks: 0, keys: 0, fields: 0 }
  const part = (name: string) => column.getByRole('region', { name, exact: true })
  const click = async (what: Locator) => {
    await what.click()
    toil.clicks += 1
  }
  const keys = async (text: string) => {
    await page.keyboard.type(text)
    await page.keyboard.press('Enter')
    toil.keys += text.length + 1
    toil.fields += 1
  }
  const write = async (text: string) => {
    await page.keyboard.press('Control+a')
    toil.keys += 1
    await keys(text)
  }
  return {
    toil,
    click,
    write,
    again: keys,
    unfold: async (name) => {
      const head = part(name).getByRole('button', { name }).first()
      if ((await head.getAttribute('aria-expanded')) !== 'true') await click(head)
    },
    type: async (where, label, text) => {
      const named = { name: label, exact: true } as const
      const number = part(where).getByRole('spinbutton', named)
      await click(number.or(part(where).getByRole('textbox', named)))
      await ((await number.count()) > 0 ? keys(text) : write(text))
    },
    choose: async (where, label, option) => {
      const segments = part(where).getByRole('radiogroup', { name: label, exact: true })
      const list = part(where).getByRole('button', { name: new RegExp(`(^|\\s)${label}$`) })
      await segments.or(list).first().waitFor()
      if ((await segments.count()) > 0) await click(segments.getByRole('radio', { name: option, exact: true }))
      else {
        await click(list)
        await click(page.getByRole('option', { name: option, exact: true }))
      }
      toil.fields += 1
    },
    press: async (where, name) => {
      const named = { name, exact: true } as const
      await click(
        part(where)
          .getByRole('button', named)
          .or(part(where).getByText(name, { exact: true })),
      )
    },
  }
}
