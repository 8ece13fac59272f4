/** Why a choice or a button did nothing, in words. */
export function ErrorText({ why }: { why: string | null }) {
  return (
    <p role="alert" className="ui-why">
      {why}
    </p>
  )
}
