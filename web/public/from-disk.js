// A page opened as a file may not load its modules: say so instead of staying empty.
if (location.protocol === 'file:')
  document.querySelector('#app').textContent =
    'Strobewright cannot run from a file: browsers do not let a page opened so load its scripts. Start it with “npm start”, or put this folder on any web server and open it from there.';
