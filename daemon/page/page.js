// Keeps the page fresh: what the chamber tells is the sign to fetch the page again, at most every two seconds.
'use strict';
const told = document.getElementById('line');
let waiting = false;
let asked = 0;
let lostAt = '';
let hint = '';

function say(text) {
  if (told.textContent !== text) told.textContent = text;
  document.getElementById('now').classList.toggle('old', text !== '');
}

function clock() {
  return new Date().toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' });
}

async function refresh() {
  waiting = false;
  asked = Date.now();
  try {
    const answer = await fetch(location.pathname, { cache: 'no-store' });
    if (!answer.ok) throw new Error(answer.status);
    const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
    const held = document.activeElement && document.activeElement.id;
    document.getElementById('now').replaceWith(fresh.getElementById('now'));
    document.title = fresh.title;
    dress();
    if (held && document.getElementById(held)) document.getElementById(held).focus();
    say('');
  } catch (error) {
    lost();
  }
}

function lost() {
  lostAt = lostAt || clock();
  say('No answer since ' + lostAt + '. What stands below is old.');
  document.title = 'no answer';
}

function soon() {
  lostAt = '';
  if (waiting) return;
  waiting = true;
  setTimeout(refresh, Math.max(100, 2000 - (Date.now() - asked)));
}

async function answer(button) {
  const hours = button.dataset.hours;
  const until = hours && new Date(Date.now() + hours * 3600e3).toISOString().replace(/\.\d+Z/, 'Z');
  button.disabled = true;
  let status = 0;
  try {
    const sent = await fetch(button.dataset.to, { method: 'POST', body: until ? JSON.stringify({ until }) : '' });
    status = sent.status;
  } catch (error) {
    lost();
    return;
  } finally {
    button.disabled = false;
  }
  if (status === 401 || status === 403) {
    hint = 'To answer from here, open this page once with ?token=SECRET behind its address; the secret stands in the token file.';
    dress();
  } else {
    refresh();
  }
}

// Buttons only work with a script, so only a script shows them.
function dress() {
  for (const button of document.querySelectorAll('button[data-to]')) {
    button.hidden = false;
    button.onclick = () => answer(button);
  }
  const place = document.querySelector('.hint');
  if (place) place.textContent = hint;
}

let live;
function listen() {
  live = new EventSource('/v1/live');
  for (const kind of ['reading', 'status', 'warning', 'cleared', 'stage']) live.addEventListener(kind, soon);
  live.onerror = lost;
}

dress();
listen();
setInterval(() => {
  if (live.readyState === EventSource.CLOSED) listen();
  if (Date.now() - asked > 60000) refresh();
}, 15000);
