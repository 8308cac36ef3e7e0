interface LevelStripProps {
  readonly levelLufs: number
}

const QUIETEST_LUFS = -50
const LOUDEST_LUFS = 0
const WIDTH = 128

/** A level as a dot between −50 and 0 LUFS, ticks every 10; the number stands beside it. */
export function LevelStrip({ levelLufs }: LevelStripProps) {
  const at = (lufs: number) => 6 + ((lufs - QUIETEST_LUFS) / (LOUDEST_LUFS - QUIETEST_LUFS)) * (WIDTH - 12)
  const shown = Math.min(LOUDEST_LUFS, Math.max(QUIETEST_LUFS, levelLufs))
  return (
    <svg className="level" viewBox={`0 0 ${WIDTH} 18`} aria-hidden="true">
      <line x1={at(QUIETEST_LUFS)} x2={at(LOUDEST_LUFS)} y1={9} y2={9} />
      {[-50, -40, -30, -20, -10, 0].map((lufs) => (
        <line key={lufs} x1={at(lufs)} x2={at(lufs)} y1={5} y2={13} />
      ))}
      <circle cx={at(shown)} cy={9} r={5} />
    </svg>
  )
}
