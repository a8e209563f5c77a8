"""Spanish words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "orden, orden de reparación, orden de trabajo, ot, or, parte, parte de trabajo, ord, pedido, expediente, "
        "ficha, hoja de trabajo, orden de servicio, os, orden taller, boleta, albarán, órdenes, exp, hoja, nº de "
        "hoja, nº hoja, folio orden, no ot, no orden, parte taller, nº intervención"
    ),
    "job": "tarea, operación, faena",
    "repair": "reparación, rep, reparaciones, arreglo",
    "work": "trabajo, trabajos, taller, intervención, mano",
    "shop": "taller",
    "visit": "visita, cita, turno",
    "invoice": "factura, fact, facturación, facturado",
    "quote": "presupuesto, cotización, estimación",
    "number": "número, num, no, nro, n, nº, núm",
    "id": "identificador, id, referencia, ref, clave, ident",
    "code": "código, cod, cód, codigos",
    "line": "línea, lin, renglón, fila, partida, lín, linea orden, secuencia, sec",
    "item": "artículo, art, producto, material, ítem",
    "vehicle": (
        "vehículo, veh, coche, carro, auto, automóvil, camión, unidad móvil, vehiculos, vehíc, móvil número, móvil, "
        "máquina, unidad, equipo"
    ),
    "fleet": (
        "flota, número económico, no económico, económico, número de flota, interno, interno nº, alta flota número"
    ),
    "unit": "unidad, ud, uds, unid, unidad de medida, um, unidad de distancia, unidad distancia, unidad lectura",
    "each": "unitario, unit, precio unitario, p unitario, pu, por unidad, c u",
    "customer": "cliente, cli, propietario, titular, dueño, cta",
    "vin": (
        "vin, bastidor, chasis, número de bastidor, número de chasis, número de serie, no serie, nº bastidor, nº "
        "chasis, n serie, serie vehículo, num bastidor, niv, serie vin, no de serie, nº de serie, número serie"
    ),
    "engine": "motor, mot, motores, motorización",
    "family": "familia, grupo, fam",
    "engine_family": (
        "tipo de motor, código motor, código de motor, familia motor, serie de motor, tipo motor, familia de motor, "
        "cód motor, denominación motor, sigla motor, motor código, familia de motores, clave motor, clave de motor, "
        "versión motor"
    ),
    "make": "marca, fabricante vehículo, mca, armadora",
    "brand": "marca repuesto, fabricante, marca pieza",
    "model": (
        "modelo, mod, mdl, línea modelo, tipo vehículo, línea, versión modelo, submarca, modelo vehículo, versión "
        "vehículo"
    ),
    "trim": "color, carrocería, versión, acabado, transmisión, caja, puertas, neumáticos",
    "year": "año, ano, anio, año modelo, año de fabricación, año fabricación, modelo año",
    "date": "fecha, fec, fch, día, f, fcha",
    "time": "hora, horario",
    "month": "mes, meses",
    "mile": "milla, millas",
    "km": "km, kilómetros, kilómetro, kms",
    "odometer": (
        "odómetro, cuentakilómetros, lectura odómetro, contador, tablero, lectura cuentakilómetros, tacómetro, "
        "lectura, lectura km, odómetro entrada, lectura del odómetro, marcador, reloj, cuentakm, km leídos, km "
        "tablero, km marcados, lectura entrada"
    ),
    "mileage": "kilometraje, kilom, recorrido, millaje, klm",
    "in": (
        "entrada, ingreso, recepción, llegada, recibido, ent, ingresó, al ingreso, a la entrada, recep, entr, "
        "recibido el, traído, dejado, llegó, fecha de ingreso, fecha de recepción, entró, entregado al taller, f "
        "entrada, recibida, recibido en taller, entró el, llegó el, ingreso a taller, al recibir, ingresa"
    ),
    "out": (
        "salida, entrega, egreso, retiro, sal, entregado, a la salida, al egreso, devolución, recogido, recogida, "
        "devuelto, retirado, fecha de entrega, entregado el, se fue, f salida, salió, salió el, devuelto el, "
        "entregado al cliente, al entregar, sale"
    ),
    "open": (
        "apertura, abierto, abierta, inicio, creación, creado, emisión, comienzo, alta, apert, cuándo, cuando, "
        "abierta el, fecha orden, fecha de la orden, fecha ot"
    ),
    "close": (
        "cierre, cerrado, cerrada, fin, terminado, término, finalización, finalizado, terminación, conclusión, "
        "cerrada el, terminada el, finalizada, cerrado el, f cierre, finalizado el, cerró"
    ),
    "in_service": (
        "matriculación, fecha matriculación, fecha de matriculación, primera matriculación, puesta en servicio, "
        "puesta en circulación, fecha de compra, primera inscripción, fecha compra, 1 matriculación, fecha matrícula, "
        "alta vehículo, fecha de alta, alta en flota, alta flota, en servicio desde, fecha alta, 1ª matriculación, 1a "
        "matriculación, inicio operación, en circulación desde, f matriculación, primera matr"
    ),
    "service": "servicio, mantenimiento, serv, mantención",
    "void": "anulado, anulada, cancelado",
    "status": (
        "estado, estatus, situación, estado orden, est, sit, abierta o cerrada, estado de la orden, situación orden, "
        "abierta cerrada, situación de la orden"
    ),
    "is_open": "sigue abierta, está abierta, abierta sí no",
    "is_closed": "está cerrada, cerrada sí no",
    "location": (
        "sucursal, sede, taller sede, local, centro, delegación, ubicación taller, suc, ubicación, planta, tienda, "
        "base, yarda, patio, punto de servicio, base operativa, taller nombre"
    ),
    "total": "total, importe total, tot, suma, total orden, total factura, monto total",
    "amount": "importe, monto, imp, valor cobrado, cobrado, facturado importe, cargo",
    "price": (
        "precio, precio de venta, venta, pvp, pv, precio venta, tarifa, prec, cobrado al cliente, precio cliente, "
        "precio al cliente, vendido, valor venta, se cobró, precio cobrado, facturado al cliente, cargo al cliente, "
        "cobrado cliente, importe cobrado, importe venta, total cobrado, imp línea, imp neto, venta neta, facturado "
        "cliente"
    ),
    "cost": (
        "costo, coste, costos, precio de compra, compra, precio costo, precio coste, pc, cto, costó, pagado, nuestro "
        "costo, precio de costo, valor costo, nos costó, importe coste, importe costo, costo para nosotros, precio "
        "adquisición, coste compra, gasto"
    ),
    "extended": "importe línea, total línea, subtotal, importe de línea, sub total",
    "net": "neto, sin iva, base imponible, base, s iva, s imp",
    "gross": "bruto, con iva, iva incluido, c iva",
    "tax": "iva, impuesto, impuestos, igv",
    "discount": "descuento, dto, desc porcentaje, bonificación, rebaja, margen, desc, desc %, dcto",
    "payment": (
        "pago, forma de pago, pagado, saldo, anticipo, vencimiento, seguro, aseguradora, cobro, cobrado el, pagado "
        "el, fecha pago, liquidado, liquidación"
    ),
    "rate": "tarifa hora, precio hora, valor hora, tarifa horaria, tarifa mo, tarifa mano de obra",
    "labor": "mano de obra, mo, m o, mano obra, mdo",
    "part": (
        "pieza, piezas, repuesto, repuestos, recambio, recambios, refacción, refacciones, parte pieza, rep pieza, "
        "rpto, refac, rec, pza, parte"
    ),
    "hours": (
        "horas, hrs, hs, h, tiempo, tiempo facturado, horas facturadas, horas cobradas, tiempo de trabajo, horas "
        "trabajo, hora mo, cuánto tiempo, duración, tiempo empleado, horas empleadas, jornada, hrs hombre, h h, hh, "
        "tiempo cobrado, tiempo mo, horas hombre"
    ),
    "actual": "real, reales, fichadas, fichado",
    "quantity": (
        "cantidad, cant, ctd, unidades, ctdad, cdad, cantid, cuántos, cuantos, unidades usadas, cant usada, piezas "
        "usadas, uds, piezas, cant pza, unidades empleadas"
    ),
    "kind": (
        "tipo, clase, categoría, tipo línea, tipo de línea, rubro, concepto tipo, cat, naturaleza, tipo de renglón, "
        "tipo renglón, tipo de cargo, tipo cargo, tipo concepto, mano de obra o pieza, rubro línea, mo rep, m r, tipo "
        "lín, t, concepto, clase línea, clase de línea, naturaleza línea, tipo cobro"
    ),
    "record": "registro, tipo registro, tipo de registro, reg tipo, tipo reg, tr",
    "component": (
        "componente, elemento, conjunto, pieza afectada, componente afectado, código componente, órgano, pieza "
        "averiada, pieza fallada, pieza defectuosa, elemento averiado, qué falló, componente fallado"
    ),
    "system": "sistema, área",
    "position": (
        "posición, lado, ubicación pieza, número de cilindro, nº cilindro, lugar, pos, eje, rueda, posic, dónde, "
        "donde, sitio, lugar en vehículo, ubicación en vehículo, dónde va, lado montaje, ubicación, delantera "
        "trasera, izq der, eje lado, rueda nº, lugar pieza, cuál, cuál rueda"
    ),
    "action": (
        "acción, actuación, tipo de trabajo, tipo trabajo, tipo de intervención, actividad, qué se hizo, tipo "
        "operación, tipo intervención, tipo de reparación, operación realizada, tarea realizada, tipo tarea, qué "
        "hizo, intervención tipo, operación, labor"
    ),
    "reason": (
        "motivo, razón, motivo cambio, motivo del cambio, motivo de sustitución, causa cambio, porqué, causal, motivo "
        "sustitución, motivo reemplazo, por qué, porque, por qué se hizo, razón del cambio, motivo del reemplazo, "
        "causa del cambio, motivo trabajo, motivo intervención, cambiado por, justificación"
    ),
    "cause": (
        "causa, diagnóstico, hallazgo, hallazgos, diag, causa avería, encontrado, causa de la avería, causa falla, "
        "dictamen, qué se encontró, lo que se encontró, causa encontrada, falla encontrada, origen de la falla, "
        "motivo de la falla, revisión encontrada, avería detectada, avería encontrada, defecto encontrado, lo "
        "hallado, qué se halló, qué encontramos, detectado, causa detectada, causa real, hallado, problema "
        "encontrado, falla detectada, diagnóstico del mecánico"
    ),
    "correction": (
        "corrección, trabajo realizado, trabajos realizados, reparación realizada, solución, remedio, reparación "
        "efectuada, acción correctiva, realizado, trabajo efectuado, arreglo realizado, trabajos efectuados, acción "
        "realizada, lo que se hizo, qué se hizo texto, reparado, hecho, trabajo hecho, trabajo ejecutado, reparación "
        "hecha, resolución, detalle del trabajo, qué se hizo, arreglo, lo realizado, lo hecho, qué hicimos, "
        "intervención realizada, operación efectuada texto, tareas realizadas, reparación, detalle reparación, "
        "informe mecánico, cómo se arregló"
    ),
    "concern": (
        "queja, reclamo, reclamación, síntoma, síntomas, avería, falla, falla reportada, problema, avería declarada, "
        "solicitud, solicitud cliente, motivo visita, motivo de la visita, motivo de entrada, motivo ingreso, lo que "
        "dice el cliente, anomalía, síntoma cliente, petición, pedido cliente, falla indicada, manifestación cliente, "
        "observación del cliente, desperfecto, lo que dice, cliente dice, el cliente dice, reporte del cliente, "
        "reporte cliente, falla declarada, reporta, problema reportado, motivo consulta, defecto reportado, avería "
        "comunicada, reporte del conductor, reporte conductor, qué dice el cliente, manifiesta, manifestado, lo que "
        "cuenta el cliente, cuenta el cliente, problema del cliente, síntoma reportado, queja cliente, queja del "
        "cliente, dice el cliente, quejas, motivo de ingreso, motivo entrada taller, solicitado, trabajo solicitado, "
        "falla según cliente, según cliente"
    ),
    "description": (
        "descripción, descrip, desc, detalle, texto, concepto, denominación, designación, glosa, descripc, detalles, "
        "qué, que, descripción línea, trabajo o pieza, descripción del trabajo, descripción de la pieza, descripción "
        "pieza, nombre pieza, pieza o trabajo, mo o pieza, nombre de pieza, nombre repuesto, trabajo o repuesto, desc "
        "línea, descripción renglón, descripción concepto, concepto línea"
    ),
    "note": "nota, notas, comentario, comentarios, observación, observaciones, obs, observ",
    "supplier": (
        "proveedor, prov, suministrador, proveed, tercero, subcontratista, distribuidor, provedor, comprado a, "
        "comprado en, de quién, casa de repuestos, refaccionaria, vendedor repuestos, comprado, adquirido en, tienda "
        "repuestos, casa, surtidor"
    ),
    "origin": (
        "origen, procedencia, condición, calidad, estado pieza, tipo de pieza, tipo pieza, nuevo usado, tipo de "
        "recambio, calidad pieza, tipo recambio, tipo repuesto, tipo de repuesto, condición pieza, estado de la "
        "pieza, nuevo o usado, estado repuesto, clase de pieza, condición refacción, condición del repuesto, calidad "
        "del repuesto, nueva usada, nuevo reman, estado del recambio, condición pza, estado pza"
    ),
    "technician": (
        "mecánico, técnico, mec, operario, tec, tco, oper, realizado por, empleado, código mecánico, quién, quien, "
        "hecho por, ejecutado por, operador taller, mecánico nº, quién lo hizo, mecánico asignado, nº operario, "
        "código operario, ejecutor, oficial"
    ),
    "person": (
        "asesor, recepcionista, vendedor, conductor, chofer, contacto, usuario, responsable, encargado, recibido por, "
        "creado por, jefe de taller, asesor de servicio, abierto por, atendido por, operador, operador asignado, "
        "conductor asignado, recibió, atendió, mostrador, entregado por, retirado por, reportado por, capturó"
    ),
    "name": "nombre, apellido, apellidos, razón social, nombre cliente, empresa, nombres",
    "phone": "teléfono, tel, móvil, celular, tfno, telf, fono, fax, tlf",
    "email": "correo, correo electrónico, email, e mail, mail",
    "address": "dirección, calle, ciudad, código postal, cp, provincia, domicilio, país, población, direc, localidad",
    "plate": "matrícula, placa, patente, placas, matr, chapa, dominio, mat",
    "birth": "fecha de nacimiento, nacimiento, sexo, idioma, dni, nif, cif, rut, rfc",
    "warranty": "garantía, gtía, gar, garant",
    "dtc": (
        "código de falla, código falla, código avería, código de avería, código de error, código error, códigos de "
        "falla, código defecto, cod falla, códigos de avería"
    ),
    "stage": (
        "momento, etapa, fase, antes después, leído en, momento lectura, antes o después, antes o después de reparar, "
        "cuándo se leyó"
    ),
    "check": (
        "prueba, verificación, control, comprobación, revisión, prueba de ruta, control final, inspección, chequeo, "
        "tipo de prueba, comprobado, comprobación hecha, prueba hecha"
    ),
    "measure": "medida, medición, magnitud, parámetro, medido, tipo de medición, mediciones",
    "value": "valor, lectura, val, valor medido, medido, valor leído, lectura valor",
    "result": "resultado, res, resultados",
    "pass": "aprobado, conforme, pasó, correcto, ok, apto, superado, superada, aprobada",
    "pull": "repetición, intento, corrida, ensayo, rept, nº ensayo, nº prueba, prueba número, número de medición",
    "cylinder": "cilindro, cilindros, cil, número de cilindros, nº cilindros, cant cilindros, cantidad de cilindros",
    "exhaust": "escape, esc",
    "intake": "admisión, adm",
    "valve": "válvula, válvulas, valv",
    "displacement": "cilindrada, litros, cc, cm3",
    "fuel": "combustible, potencia, cv, kw, gasolina, hp",
    "tool": (
        "almacén, peso, foto, firma, prioridad, próximo servicio, próxima revisión, itv, modificado, impreso, última "
        "visita, código operación, cuenta contable, estante, bahía, fecha prometida, elevador, prometido, caja "
        "número, entrega prevista, fecha estimada, box, centro de costos, bahía nº, puesto, puesto de trabajo, "
        "póliza, tarjeta de circulación, verificación vehicular, nivel combustible, coche de cortesía, nº llaves, "
        "llavero, nº líneas, número de líneas, prometida, prometido para, próxima itv, turno taller"
    ),
    "part_number": (
        "número de parte, no parte, num parte, ref recambio, ref, ref pieza, ref repuesto, clave refacción, clave, "
        "código repuesto, código artículo, nº repuesto, nº de pieza, no pieza, código recambio, referencia pieza"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
