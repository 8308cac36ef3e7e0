import type { Finding, Verdict } from '../model/finding.ts';
import type { LimitInWords } from './board-words.ts';
/** One font of a report. */
export interface ReportedFont {
    readonly name: string;
    readonly version: string;
    readonly soundCount: number;
    readonly verdict: Verdict;
    readonly findings: readonly Finding[];
}
export interface Report {
    readonly boardTitle: string;
    /** What the board accepts, in words. */
    readonly limits: readonly LimitInWords[];
    readonly fonts: readonly ReportedFont[];
    readonly toolVersion: string;
}
/**
 * A report as one self-contained page for a font's creator: no script, no picture, nothing fetched;
 * made to be printed. It names no client and no path of this computer: paths are those inside the font.
 */
export declare function reportHtml(report: Report): string;
