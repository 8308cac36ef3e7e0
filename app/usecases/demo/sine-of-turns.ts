/**
 * Sine of an angle in turns (1 is a full circle), by a polynomial of plain additions and
 * multiplications: engines may differ in the last bit of Math.sin, and the demo's bytes must not.
 *
 * Shape: any finite number -> -1 to 1; error below 1e-6, under half a step of 16-bit sound.
 * Source: Taylor series of the sine to the eleventh power, folded to a quarter turn either way.
 */
export function sineOfTurns(turns: number): number {
  let folded = turns - Math.floor(turns)
  if (folded > 0.75) folded -= 1
  else if (folded > 0.25) folded = 0.5 - folded
  const angle = folded * 6.283185307179586
  const square = angle * angle
  return (
    angle *
    (1 - (square / 6) * (1 - (square / 20) * (1 - (square / 42) * (1 - (square / 72) * (1 - square / 110)))))
  )
}
