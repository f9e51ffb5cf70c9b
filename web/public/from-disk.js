// A page opened as a file may not load its modules: say what to do instead of staying empty.
if (location.protocol === 'file:') {
  const words = {
    en: {
      why: 'Strobewright cannot run from a file: browsers do not let a page opened so load its scripts.',
      how: 'Any web server that serves this folder will do, and no network is needed. Python brings one, for example: open a terminal in this folder (the one that holds index.html), type the command, and leave it running.',
      where: 'Then open this address in the browser, on this computer:',
      after:
        'Once opened so, the page also opens without the folder, from the same address in the same browser.',
    },
    de: {
      why: 'Strobewright läuft nicht aus einer Datei: Browser lassen eine so geöffnete Seite ihre Skripte nicht laden.',
      how: 'Jeder Webserver, der diesen Ordner ausliefert, genügt, und ein Netz ist nicht nötig. Python bringt zum Beispiel einen mit: ein Terminal in diesem Ordner öffnen (dem mit index.html), den Befehl eingeben und laufen lassen.',
      where: 'Dann im Browser auf diesem Rechner diese Adresse öffnen:',
      after:
        'Einmal so geöffnet, öffnet sich die Seite im selben Browser unter derselben Adresse auch ohne den Ordner.',
    },
  };
  const commands = [
    ['Windows', 'py -m http.server 8000 --bind 127.0.0.1'],
    ['Linux, macOS', 'python3 -m http.server 8000 --bind 127.0.0.1'],
  ];
  const make = (name, text, ...children) => {
    const made = document.createElement(name);
    made.append(text, ...children);
    return made;
  };
  const german = navigator.language.toLowerCase().startsWith('de');
  const languages = german ? ['de', 'en'] : ['en', 'de'];
  const sections = languages.map((language) => {
    const { why, how, where, after } = words[language];
    const list = make('ul', '', ...commands.map(([on, run]) => make('li', `${on}: `, make('code', run))));
    const address = make('p', `${where} `, make('code', 'http://localhost:8000'));
    const section = make('section', '', make('p', why), make('p', how), list, address, make('p', after));
    section.lang = language;
    return section;
  });
  document.querySelector('#app').replaceChildren(...sections);
}
