// A design with a severe finding can be saved and printed, but never silently: the notice after a save, and the head of each printed page.
import { missingFindings, useMissing } from '../store/missing.ts'
import { useSevere } from '../store/severe.ts'
import { Button } from '../ui/Button.tsx'
import { shell, storage, useShell, useStorage } from './page.ts'

const counted = (n: number) => (n === 1 ? 'One severe finding' : `${n} severe findings`)
const SHOWN = 3

/** Not a dialog: it asks nothing and disappears with the next edit. */
export function SavedNotice() {
  const saved = useShell((s) => s.saved)
  return (
    <div className="shell-saved" role="status">
      {saved && (
        <div className="shell-saved-body">
          <p>
            <strong>
              {saved.known
                ? `Saved with ${saved.titles.length === 1 ? 'one severe finding' : `${saved.titles.length} severe findings`}.`
                : 'Saved before anything was known of its dangers.'}
            </strong>
          </p>
          <ul>
            {saved.titles.slice(0, SHOWN).map((title) => (
              <li key={title}>{title}</li>
            ))}
            {saved.titles.length > SHOWN && <li>and {saved.titles.length - SHOWN} more, under Dangers</li>}
          </ul>
          <Button kind="quiet" name="Close what was said of the save" onPress={() => shell.setState({ saved: null })}>
            ✕
          </Button>
        </div>
      )}
    </div>
  )
}

/** What has become of a stored lamp, when that is not what one would expect. */
export function StorageNotice() {
  const notice = useStorage((s) => s.notice)
  return (
    <div className="shell-saved" role="status">
      {notice && (
        <div className="shell-saved-body shell-stored">
          <p>{notice}</p>
          <Button kind="quiet" name="Close what was said of the stored lamps" onPress={storage.closeNotice}>
            ✕
          </Button>
        </div>
      )}
    </div>
  )
}

/** Only on paper, at the head of every page. `more`: where the others stand. */
export function PrintedSevere({ more = 'under Dangers' }: { more?: string }) {
  const severe = useSevere()
  const gone = useMissing((s) => missingFindings(s).length)
  if (severe?.length === 0) return null
  // What is missing comes first; all of it is said on every page.
  const shown = Math.max(1, gone)
  return (
    <p className="shell-printed-severe">
      {severe === null
        ? 'Printed before anything was known of its dangers.'
        : `${counted(severe.length)}: ${severe.slice(0, shown).join(' ')}${severe.length > shown ? ` And ${severe.length - shown} more ${more}.` : ''}`}
    </p>
  )
}
