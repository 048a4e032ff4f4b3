// Element import-log: a track log of a flight flown elsewhere, made into an attempt.
import { parseJson, type ScenarioChoice, TrackMapping } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { getScenarios, importLog } from '../api.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath, goTo } from '../routes.js';

@customElement('import-log')
export class ImportLog extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { padding: 0; }
      summary { display: inline-block; padding: 0.35rem 0; min-height: 24px; cursor: pointer; color: var(--accent); text-decoration: underline; text-underline-offset: 3px; }
      form { display: grid; gap: 0.9rem 1.5rem; max-width: 44rem; padding: 0.75rem 0 0.5rem; }
      .field { display: grid; gap: 0.2rem; align-content: start; min-width: 0; }
      label { font: 600 0.9375rem/1.5 var(--sans); }
      label .quiet { font-weight: 400; }
      .small { font-size: 0.8125rem; line-height: 1.4; }
      select, input[type='text'] {
        width: 100%; min-width: 0; height: 2.5rem; padding: 0 0.6rem; border: 1px solid var(--edge); border-radius: 3px; background: var(--paper);
        color: var(--ink); font: 1rem var(--sans);
      }
      input[type='file'] { width: 100%; min-width: 0; font: 0.9375rem var(--sans); color: var(--ink); }
      input[type='file']::file-selector-button {
        min-height: 2rem; margin-right: 0.75rem; padding: 0.2rem 0.75rem; border: 1px solid var(--edge); border-radius: 3px;
        background: var(--paper); color: var(--ink); font: 500 0.9375rem var(--sans); cursor: pointer;
      }
      .whole { grid-column: 1 / -1; }
      @media (min-width: 700px) { form { grid-template-columns: 1fr 1fr; } }
      @media print { :host { display: none; } }
    `,
  ];
  @state() private scenarios: readonly ScenarioChoice[] = [];
  @state() private busy = false;
  @state() private problem: string | null = null;
  /** A file of another format needs none. */
  @state() private isCsv = false;

  override render() {
    return html`<details @toggle=${this.onToggle}>
      <summary data-testid="import-open">Score a track log</summary>
      <form @submit=${this.onSubmit} data-testid="import-form">
        <p class="small quiet whole">A GPX, IGC, NMEA 0183 or CSV log of a flight at height or in a simulator. What such a log does not hold
          (airspeed, bank, the engine) is not marked, and the debrief says so.</p>
        <div class="field">
          <label for="file">Track log</label>
          <input id="file" name="file" type="file" required accept=".gpx,.igc,.nmea,.txt,.log,.csv" data-testid="import-file" @change=${this.onFile} />
        </div>
        <div class="field">
          <label for="scenario">Scenario <span class="quiet">(its runway, aeroplane and rubric)</span></label>
          <select id="scenario" name="scenario" required data-testid="import-scenario">
            ${this.scenarios.map(({ id, name, runwayName }) => html`<option value=${id}>${name}, runway ${runwayName}</option>`)}
          </select>
        </div>
        <div class="field">
          <label for="failedAt">Power lost at <span class="quiet">(may be left empty)</span></label>
          <input id="failedAt" name="failedAt" type="text" maxlength="40" autocomplete="off" placeholder="65 or 2026-01-31T09:31:05Z"
            aria-describedby="failedAt-why" data-testid="import-failed-at" />
          <p class="small quiet" id="failedAt-why">Seconds from the log's first point, or date and time. Empty: at the highest point.</p>
        </div>
        <div class="field">
          <label for="student">Pilot's name <span class="quiet">(may be left empty)</span></label>
          <input id="student" name="student" type="text" maxlength="200" autocomplete="off" data-testid="import-student" />
        </div>
        ${
          this.isCsv
            ? html`<div class="field whole">
                <label for="mapping">What its columns mean</label>
                <input id="mapping" name="mapping" type="file" required accept=".json" data-testid="import-mapping" />
                <p class="small quiet">A JSON file that names the columns; <code>npx stillprop schema track-mapping</code> explains it.</p>
              </div>`
            : nothing
        }
        ${this.problem === null ? nothing : html`<p class="notice alarm whole" role="alert" data-testid="import-problem">${this.problem}</p>`}
        <div class="whole"><button class="button main" type="submit" ?disabled=${this.busy} data-testid="import">
          ${this.busy ? 'Reading the log …' : 'Score it'}</button></div>
      </form>
    </details>`;
  }

  private async onToggle(event: Event) {
    if (!(event.target as HTMLDetailsElement).open || this.scenarios.length > 0) return;
    try {
      this.scenarios = await getScenarios();
    } catch (error) {
      this.problem = (error as Error).message;
    }
  }

  private onFile(event: Event) {
    const [file] = (event.target as HTMLInputElement).files ?? [];
    this.isCsv = /\.csv$/i.test(file?.name ?? '');
    this.problem = null;
  }

  private async onSubmit(event: SubmitEvent) {
    event.preventDefault();
    const fields = new FormData(event.target as HTMLFormElement);
    const text = (name: string) => String(fields.get(name) ?? '').trim();
    this.busy = true;
    this.problem = null;
    try {
      const mapping = this.isCsv
        ? parseJson(TrackMapping, await (fields.get('mapping') as File).text(), 'the mapping')
        : null;
      if (mapping !== null && !mapping.ok) {
        this.problem = mapping.problem.message;
        return;
      }
      const { attemptId } = await importLog({
        log: await (fields.get('file') as File).text(),
        scenarioId: text('scenario'),
        student: text('student') || null,
        ...(text('failedAt') === '' ? {} : { failedAt: text('failedAt') }),
        ...(mapping === null ? {} : { mapping: mapping.value }),
      });
      goTo(attemptPath(attemptId));
    } catch (error) {
      this.problem = (error as Error).message;
    } finally {
      this.busy = false;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'import-log': ImportLog;
  }
}
