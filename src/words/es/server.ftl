### Lo que el servidor dice a quien está en la puerta: la cuadrilla, la oficina, los calendarios.

server-no-key = aquí hace falta una clave: primero escríbala
server-wrong-key = esta clave no se conoce: revísela o pida una nueva a la oficina
server-expired-key = esta clave ya venció: pida una nueva a la oficina
server-revoked-key = esta clave fue anulada: pida una nueva a la oficina
server-not-yours = esta clave no abre eso: escriba la que corresponde
server-feed-key = esta clave abre un calendario y ninguna página
server-elsewhere = esto no se envió desde una página de este servidor
server-not-found = no hay nada en esta dirección
server-no-such-site = esta obra no se atiende aquí: pregunte en la oficina
server-wrong-method = eso no se puede hacer en esta dirección
server-too-often = demasiadas solicitudes: espere un minuto y pruebe de nuevo
server-too-slow = esto tardó demasiado: envíelo otra vez
server-too-large = lo enviado es demasiado largo: se esperaban { $most } bytes como máximo
server-broke-off = lo enviado se cortó: envíelo otra vez
server-wrong-kind = se esperaba JSON (Content-Type: application/json)
server-not-text = se esperaba texto UTF-8, se encontraron otros bytes
server-busy = hay demasiadas páginas abiertas: pruebe más tarde
server-not-yet = todavía no hay nada que mostrar de esta obra: pruebe en un minuto
server-inside = algo falló aquí, y el registro del servidor dice qué: pruebe más tarde

server-problem-title = Eso no funcionó
server-enter-title = Entrar
server-enter-key = Clave
server-enter-button = Entrar
server-enter-who-has-it = La oficina tiene su clave.
server-enter-link = Escribir una clave
