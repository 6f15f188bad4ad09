// The browser under test, and what it complained about.

import { chromium } from 'playwright-core';

function fromXtask(name) {
  const value = process.env[name];
  if (value === undefined) throw new Error(`${name} is not set: run these tests with \`cargo xtask test browser\``);
  return value;
}

/** The folder of the built page. */
export const dist = fromXtask('WHORL_DIST');

/** How the names of files in it begin that a first visit must not touch. */
export const laterNames = fromXtask('WHORL_LATER').split(',');

/** What makes the browser quiet about everything that is not the page. */
export function switches() {
  // Chromium's sandbox does not start for root, as on a build machine.
  const forRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return [
    ...forRoot,
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ];
}

/** Starts the browser; `more` are switches that a test needs. */
export function launch(more = []) {
  return chromium.launch({ executablePath: fromXtask('WHORL_CHROMIUM'), args: [...switches(), ...more] });
}

/** Collects the page's errors: uncaught ones, those written to the console, and files that did not come. */
export function listenForErrors(page) {
  const errors = [];
  page.on('pageerror', (error) => errors.push(`uncaught: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(`console: ${message.text()} ${message.location().url}`);
  });
  page.on('requestfailed', (request) => errors.push(`not loaded: ${request.url()}`));
  return errors;
}
