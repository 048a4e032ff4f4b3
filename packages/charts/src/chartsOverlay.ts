// Texts and marks that stand over the plots of the time charts: names, direct labels, the cursor and its figures.
import type { Score, Trace } from '@stillprop/contracts';
import { html, nothing, type TemplateResult } from 'lit';
import type { ChartsDrawing } from './chartsDrawing.js';
import { bankFigure, figure, signedFigure } from './figures.js';
import type { Panel } from './panels.js';
import { PLOT_PAD_PX } from './plotOptions.js';
import type { PanelPlace, StackLayout } from './stackLayout.js';
import { phaseAt, valueAt } from './traceAt.js';
import { PHASE_WORDS } from './words.js';

const CURSOR_TOP_PX = 18;

/** @param inferred Columns that the source did not measure: their panels say so. @param shownS The moment under the cursor (recording seconds), inside the window; null: none. */
export function chartsOverlay(
  drawing: ChartsDrawing,
  trace: Trace,
  score: Score,
  shownS: number | null,
  inferred: readonly string[] = [],
): TemplateResult {
  const { stack, window, panels } = drawing;
  const phase = shownS === null ? null : phaseAt(score.phases, shownS);
  const x =
    shownS === null ? 0 : stack.left + ((shownS - window.fromS) / (window.toS - window.fromS)) * stack.plotWidth;
  const top = stack.eventsTop + CURSOR_TOP_PX;
  return html`${drawing.phases.map(
    (label) =>
      html`<span class="phase" style="left:${stack.left + label.x}px;top:${stack.phasesTop}px">${label.text}</span>`,
  )}
    ${drawing.marks.map(
      (mark) => html`<i class="tip" style="left:${stack.left + mark.markX}px;top:${stack.eventsTop + 6}px"></i>
        ${mark.side ? html`<span class="event" style="left:${stack.left + mark.x}px;top:${stack.eventsTop}px">${mark.text}</span>` : nothing}`,
    )}
    ${panels.map((panel, i) => {
      const place = stack.panels[i];
      if (!place) return nothing;
      return html`${panelTitle(panel, place.top, stack, trace, shownS, inferred)}
        ${drawing.labels[i]?.map(
          ({ text, colour, box }) =>
            html`<span class="direct ${colour}" style="left:${stack.left + box.x}px;top:${place.top + box.y}px">${text}</span>`,
        )}
        ${shownS === null ? nothing : dot(panel, trace, shownS, x, place)}`;
    })}
    ${shownS === null ? nothing : html`<div class="cursor" style="transform:translateX(${x}px);top:${top}px;height:${stack.bottom - top}px"></div>`}
    <div class="moment ${stack.narrow ? 'narrow' : ''}" data-testid="cursor-time" style="top:${stack.phasesTop}px">
      ${shownS === null ? nothing : html`<b>at ${figure(shownS - window.originS, 's')}</b>${phase ? `, ${PHASE_WORDS[phase].toLowerCase()}` : ''}`}
    </div>
    ${
      stack.narrow
        ? nothing
        : html`<div class="axis-title" style="top:${stack.bottom + PLOT_PAD_PX - 2}px">s since ${window.originText}</div>`
    }`;
}

function panelTitle(
  panel: Panel,
  top: number,
  stack: StackLayout,
  trace: Trace,
  atS: number | null,
  inferred: readonly string[],
) {
  const place = stack.narrow
    ? `left:0;right:0;top:${top - 27}px`
    : `left:${stack.left + stack.plotWidth + 14}px;top:${top - 5}px`;
  return html`<div class="title ${stack.narrow ? 'narrow' : ''}" style=${place}>
    <b>${panel.title}</b>
    <span data-testid="cursor-${panel.id}">${atS === null ? unitText(panel) : cursorFigure(panel, trace, atS)}</span>
    ${
      panel.id === 'airspeed' && atS !== null && valueAt(trace, 'stallSpeedKt', atS) !== null
        ? html`<span class="quiet">stall ${figure(valueAt(trace, 'stallSpeedKt', atS), 'kt')}</span>`
        : nothing
    }
    ${inferred.includes(panel.lines[0]?.column ?? '') && panel.id !== 'airspeed' ? html`<span class="quiet">from the track</span>` : nothing}
  </div>`;
}

function unitText({ id, unit }: Panel): string {
  return {
    height: 'ft',
    airspeed: 'kt indicated',
    bank: 'degrees, right +',
    'vertical-speed': unit,
  }[id];
}

function cursorFigure({ id, unit, lines }: Panel, trace: Trace, atS: number): string {
  const value = lines[0] ? valueAt(trace, lines[0].column, atS) : null;
  if (id === 'bank') return bankFigure(value);
  return id === 'vertical-speed' ? signedFigure(value, unit) : figure(value, unit);
}

function dot(panel: Panel, trace: Trace, atS: number, x: number, place: PanelPlace) {
  const value = panel.lines[0] ? valueAt(trace, panel.lines[0].column, atS) : null;
  if (value === null || value < panel.from || value > panel.to) return nothing;
  const y = place.top + ((panel.to - value) / (panel.to - panel.from)) * place.height;
  return html`<i class="dot" style="transform:translate(${x - 4.5}px,${y - 4.5}px)"></i>`;
}

/** A figure of a table cell, its unit in the column's head. */
export function cell(value: number | null, decimals = 0): string {
  return figure(value, '', decimals);
}
