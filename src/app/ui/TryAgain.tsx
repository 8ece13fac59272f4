// What is missing of the results, said where they would stand; and the button once nothing tries again by itself.
import { type MissingPart, mayTryAgain, missingFindings, useMissing } from '../store/missing.ts'
import { Button } from './Button.tsx'
import './missing.css'

/** Nothing while the part is there, or is being tried again by itself, nor where it is the lamp that can't be traced. */
export function TryAgain({ part }: { part: MissingPart }) {
  const there = useMissing((s) => s[part])
  if (!there || !mayTryAgain(there)) return null
  return (
    <span className="ui-again">
      <Button onPress={there.again}>Try again</Button>
    </span>
  )
}

/** A line for each missing part, on screen and on paper; `of`: the part that is shown here, with its button. */
export function MissingRemarks({ of }: { of: MissingPart }) {
  const all = useMissing((s) => s)
  const found = missingFindings(all)
  if (found.length === 0) return null
  return (
    <div className="ui-missing" role="alert">
      {found.map(({ rule, title }) => (
        <p key={rule}>
          <strong>{title}</strong>
        </p>
      ))}
      {all[of] && (
        <p>
          {all[of].restarts ? 'It is tried again automatically.' : ''} What stands below is of the last run that came to
          its end. <TryAgain part={of} />
        </p>
      )}
    </div>
  )
}
