// A page in any browser, by what the standards of remote control have in common: an address, script in the page, keys.

/** W3C WebDriver and WebDriver BiDi: the key codes of their key actions. */
export const ENTER = '\uE007'
export const ESCAPE = '\uE00C'

export interface Driven {
  goTo(address: string): Promise<void>
  /** The value of an async function's body in the page, by way of JSON. `find`, `until` and `nameOf` of HANDS are at hand. Rejects with what it threw. */
  run<T>(body: string): Promise<T>
  /** A real click, px from the window's upper left corner. */
  click(x: number, y: number): Promise<void>
  /** Real key strokes, to what has the focus. */
  press(keys: string): Promise<void>
  close(): Promise<void>
}

const HANDS = `
const nameOf = (e) =>
  e.getAttribute('aria-label') ??
  ((e.getAttribute('aria-labelledby') ?? '').split(' ').map((id) => document.getElementById(id)?.textContent ?? '').join(' ').trim() ||
    [...(e.labels ?? [])].map((l) => l.textContent).join(' ').trim() || e.textContent.trim())
const find = (selector, name) =>
  [...document.querySelectorAll(selector)].find(
    (e) => e.getClientRects().length > 0 && (name === undefined || (name instanceof RegExp ? name.test(nameOf(e)) : nameOf(e) === name)))
const until = async (what, ask) => {
  const end = performance.now() + 200000
  for (;;) {
    const got = await ask()
    if (got) return got
    if (performance.now() > end) throw new Error('waited in vain for ' + what)
    await new Promise((done) => setTimeout(done, 50))
  }
}
`

/** An expression whose promise is the outcome as JSON. */
export const expression = (body: string): string => `(async () => {${HANDS}
try { return JSON.stringify({ value: await (async () => {${body}\n})() }) }
catch (error) { return JSON.stringify({ thrown: String(error) }) } })()`

export function outcome<T>(json: string): T {
  const { value, thrown } = JSON.parse(json) as { value: T; thrown?: string }
  if (thrown !== undefined) throw new Error(thrown)
  return value
}

/** Key by key, down and up: the actions of both standards. */
export const keyActions = (keys: string) => [
  {
    type: 'key',
    id: 'keys',
    actions: [...keys].flatMap((value) => [
      { type: 'keyDown', value },
      { type: 'keyUp', value },
    ]),
  },
]

export const clickActions = (x: number, y: number) => [
  {
    type: 'pointer',
    id: 'mouse',
    actions: [
      { type: 'pointerMove', x: Math.round(x), y: Math.round(y) },
      { type: 'pointerDown', button: 0 },
      { type: 'pointerUp', button: 0 },
    ],
  },
]
