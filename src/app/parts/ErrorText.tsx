/** Why a choice or a button had no effect. */
export function ErrorText({ why }: { why: string | null }) {
  return (
    <p role="alert" className="ui-why">
      {why}
    </p>
  )
}
