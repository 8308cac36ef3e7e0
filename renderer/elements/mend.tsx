import type { MendStep } from '../../app/errors/app-error.ts'

interface MendProps {
  readonly mend: string
  readonly steps?: readonly MendStep[] | undefined
}

/** How a failure is mended, and where that takes several steps, these as a numbered list. */
export function Mend({ mend, steps = [] }: MendProps) {
  return (
    <>
      <p>{mend}</p>
      {steps.length > 0 && (
        <ol>
          {steps.map(({ step, ways }) => (
            <li key={step}>
              {step}
              {ways.length > 0 && (
                <ul>
                  {ways.map((way) => (
                    <li key={way}>{way}</li>
                  ))}
                </ul>
              )}
            </li>
          ))}
        </ol>
      )}
    </>
  )
}
