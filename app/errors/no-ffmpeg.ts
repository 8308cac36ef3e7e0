/** How the want of ffmpeg is mended, wherever preparing tells it. */
export const NO_FFMPEG_MEND = 'Install ffmpeg, or set CARDWRIGHT_FFMPEG to its path; then prepare again.'
