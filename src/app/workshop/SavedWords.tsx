// What became of the file, beside the button that makes it. It is there before there are words: only then are they read out.
import { useWorkshop } from '../store/workshop.ts'

/** `ending`: of the files that it speaks of; of all where a pane has one row of buttons. */
export function SavedWords({ ending = '' }: { ending?: string }) {
  const saved = useWorkshop((s) => (s.saved?.file.endsWith(ending) ? s.saved : null))
  return (
    <p className="workshop-saved" role="status" data-failed={saved?.state === 'failed' || undefined}>
      {saved?.words}
    </p>
  )
}
