// Head of an attempt: the sentence that stands first, what was flown, the score and what holds it.
import { figure, unbroken } from '@stillprop/charts';
import type { AttemptDetail, Score } from '@stillprop/contracts';
import { html, nothing } from 'lit';
import { dateWords, failureWords, OUTCOME_WORDS, windWords } from '../words.js';

export function attemptHead({ summary, header, score, end }: AttemptDetail) {
  const facts = [
    OUTCOME_WORDS[score.outcome],
    failureWords(header, score.failure),
    `runway ${header.runway.name}, ${figure(header.runway.lengthFt, 'ft')}`,
    windWords(header.weather),
    header.aircraft.name,
    ...(summary.student === null ? [] : [summary.student]),
    dateWords(summary.startedAt),
  ];
  return html`<h1 data-testid="headline">${unbroken(score.headline)}</h1>
    <p class="facts quiet">${facts.map(
      (fact, i) =>
        html`<span>${fact}</span>${i < facts.length - 1 ? html`<span aria-hidden="true">\u00a0·</span> ` : nothing}`,
    )}</p>
    ${
      header.imported === undefined
        ? nothing
        : html`<div class="notice" data-testid="imported"><p><b>Made from a track log.</b> ${header.imported.notes.join(' ')}</p></div>`
    }
    ${
      end === null || !summary.complete
        ? html`<p class="notice alarm" data-testid="broke-off"><b>The recording broke off.</b> What was recorded until then is shown; what came
            after is not known.</p>`
        : nothing
    }`;
}

export function attemptScore({ score }: AttemptDetail) {
  const { overall, rubric, verdict } = score;
  return html`<div class="score-line">
    ${
      overall === null
        ? html`<p class="overall none" data-testid="overall">Not scored</p>`
        : html`<p class="overall"><span class="unseen">Score: </span><span data-testid="overall">${Math.round(overall)}</span
            ><span class="unseen"> of 100</span></p>`
    }
    <div class="reasons">
      <p class="quiet">${rubric.name} rubric, revision ${rubric.revision}.${overall === null ? ` ${noTotalWords(score)}` : ''}</p>
      ${heldWords(score) ? html`<p class="held" data-testid="held">${heldWords(score)}</p>` : nothing}
      <p data-testid="verdict">${unbroken(verdict.text)}</p>
    </div>
  </div>`;
}

/** Why there is no total. */
export function noTotalWords({ findings }: Pick<Score, 'findings'>): string {
  return findings.some(({ code }) => code === 'not-flown-out')
    ? 'Not flown to the ground, so there is no total.'
    : 'Too little was measured for a score.';
}

/** What holds the total down, unless the headline says it already; null when nothing does. */
export function heldWords({
  overall,
  uncapped,
  findings,
  headline,
}: Pick<Score, 'overall' | 'uncapped' | 'findings' | 'headline'>): string | null {
  if (overall === null || uncapped === null || Math.round(uncapped) <= Math.round(overall)) return null;
  const caps = findings.filter(({ cap }) => cap !== undefined);
  const [lowest] = caps.sort((a, b) => (a.cap ?? 100) - (b.cap ?? 100));
  const held = `Held to ${Math.round(overall)}; ${Math.round(uncapped)} without`;
  return lowest === undefined || headline.includes(lowest.text) ? `${held} this.` : `${held} this: ${lowest.text}`;
}
