// The page to hang up, as it will be printed. Severe findings are printed on it; they don't prevent printing.

import { useLayoutEffect, useMemo, useRef } from 'react'
import { type DangerPage, dangerPage, dangerSheetHtml } from '../../report/dangerPage.ts'
import { shownHtml } from '../common/decimalMark.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { useDanger } from '../store/danger.ts'
import { missingFindings, useMissing } from '../store/missing.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import type { PaneProps } from './pane.ts'

export function PaperPane({ reading, lamp }: PaneProps) {
  const stale = useDanger((s) => s.stale)
  const rough = useDanger((s) => s.rough)
  const waits = stale || rough
  const severe = reading.findings.filter((f) => f.severity === 'severe').length
  const failed = useDanger((s) => s.state === 'failed')
  const all = useMissing((s) => s)
  const system = useUnitSystem()
  const remarks = useMemo(() => missingFindings(all).map((f) => f.title), [all])
  return (
    <>
      <div className="danger-paper-head">
        <Button kind="strong" isDisabled={waits} onPress={() => printPage(dangerPage(reading, lamp, remarks, system))}>
          Print
        </Button>
        <Button
          hint="One file that needs nothing else"
          isDisabled={waits}
          onPress={() => savePage(shownHtml(dangerSheetHtml(reading, lamp, remarks, system)), lamp.name)}
        >
          Save the page
        </Button>
        <p>
          {waits
            ? failed
              ? 'The page can’t be printed: its figures have not been computed.'
              : stale
                ? 'The lamp has changed: the page waits for its new figures.'
                : 'From few rays so far: the page waits for the whole.'
            : severe > 0
              ? `${severe === 1 ? 'One severe finding stands' : `${severe} severe findings stand`} on the page.`
              : 'One page A4, with the inputs it rests on.'}
        </p>
      </div>
      <Paper reading={reading} lamp={lamp} remarks={remarks} />
    </>
  )
}

/** In a shadow root, so that the styles of the page and of the printed sheet don't mix. */
function Paper({ reading, lamp, remarks }: PaneProps & { remarks: readonly string[] }) {
  const host = useRef<HTMLDivElement>(null)
  const system = useUnitSystem()
  const page = useMemo(() => dangerPage(reading, lamp, remarks, system), [reading, lamp, remarks, system])
  useLayoutEffect(() => {
    if (!host.current) return
    const root = host.current.shadowRoot ?? host.current.attachShadow({ mode: 'open' })
    root.adoptedStyleSheets = [styleSheet(CSSStyleSheet, page.style)]
    root.innerHTML = shownHtml(page.inner)
  }, [page])
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by key
    <section className="danger-paper" tabIndex={0} aria-label={`Danger sheet of ${lamp.name}`}>
      <div ref={host} />
    </section>
  )
}

/** Made by script: the page's Content-Security-Policy takes no style that stands in a document's text. */
function styleSheet(Sheet: typeof CSSStyleSheet, style: string): CSSStyleSheet {
  const sheet = new Sheet()
  sheet.replaceSync(style)
  return sheet
}

/** Prints the sheet alone from an iframe, which is removed afterwards. */
function printPage({ title, style, paper }: DangerPage): void {
  const frame = document.createElement('iframe')
  frame.className = 'danger-print'
  frame.title = 'Danger sheet, being printed'
  frame.addEventListener('load', () => {
    const inside = frame.contentWindow as (Window & typeof globalThis) | null
    if (!inside) return
    // A sheet of styles belongs to the window that made it.
    inside.document.adoptedStyleSheets = [styleSheet(inside.CSSStyleSheet, paper.style + style)]
    inside.document.title = title
    inside.document.documentElement.lang = 'en'
    inside.document.body.innerHTML = shownHtml(paper.body)
    inside.addEventListener('afterprint', () => frame.remove())
    inside.print()
  })
  for (const old of document.querySelectorAll('.danger-print')) old.remove()
  document.body.append(frame)
}

const savePage = (html: string, name: string): void =>
  saveFile(`${fileStem(name)}-danger-sheet.html`, html, 'text/html')
