// The page to hang up, as it will be printed. What was found severe stands on it; it can be printed all the same.
import { useMemo, useRef } from 'react'
import { dangerSheetHtml } from '../../job/dangerSheet.ts'
import { useDanger } from '../store/danger.ts'
import { Push } from '../ui/Push.tsx'
import type { PaneProps } from './DangerPanel.tsx'

export function PaperPane({ reading, lamp }: PaneProps) {
  const frame = useRef<HTMLIFrameElement>(null)
  const stale = useDanger((s) => s.stale)
  const rough = useDanger((s) => s.rough)
  const waits = stale || rough
  const html = useMemo(() => dangerSheetHtml(reading, lamp), [reading, lamp])
  const severe = reading.findings.filter((f) => f.severity === 'severe').length
  return (
    <>
      <div className="danger-paper-head">
        <Push kind="strong" isDisabled={waits} onPush={() => frame.current?.contentWindow?.print()}>
          Print
        </Push>
        <Push hint="One file that needs nothing else" isDisabled={waits} onPush={() => savePage(html, lamp.name)}>
          Save the page
        </Push>
        <p>
          {waits
            ? stale
              ? 'The lamp has changed: the page waits for its new figures.'
              : 'From few rays so far: the page waits for the whole.'
            : severe > 0
              ? `${severe === 1 ? 'One severe finding stands' : `${severe} severe findings stand`} on the page.`
              : 'One page A4, with the inputs it rests on.'}
        </p>
      </div>
      <iframe
        ref={frame}
        className="danger-paper"
        title={`Danger sheet of ${lamp.name}`}
        sandbox="allow-same-origin allow-modals"
        srcDoc={html}
      />
    </>
  )
}

function savePage(html: string, name: string): void {
  const url = URL.createObjectURL(new Blob([html], { type: 'text/html' }))
  const link = document.createElement('a')
  link.href = url
  link.download = `${name.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase() || 'lamp'}-danger-sheet.html`
  link.click()
  URL.revokeObjectURL(url)
}
