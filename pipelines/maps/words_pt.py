"""Portuguese words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "ordem, ordem de serviço, os, ordem de reparação, ordem de reparo, ordem de trabalho, ot, folha de obra, "
        "obra, ficha, processo, or, ordens, ficha de trabalho, folha obra, ordem serviço, folha, nº folha, o s, nº o "
        "s, nº da os, nr os, nº serviço, reparação nº, folha nº"
    ),
    "job": "tarefa, operação, atividade",
    "repair": "reparação, reparo, rep, conserto, reparações, reparos",
    "work": "trabalho, trabalhos, oficina, serviços, intervenção",
    "shop": "oficina",
    "visit": "visita, agendamento, marcação",
    "invoice": "fatura, factura, nota fiscal, nf, recibo, faturação",
    "quote": "orçamento, estimativa, cotação",
    "number": "número, num, no, nro, n, nº, núm",
    "id": "identificador, id, referência, ref, chave",
    "code": "código, cod, cód",
    "line": "linha, lin, sequência, seq, linhas, posição linha, ordem linha",
    "item": "artigo, item, produto, art, material",
    "vehicle": (
        "veículo, viatura, carro, veic, auto, automóvel, caminhão, veíc, viat, veículos, camião, máquina, unidade "
        "móvel, equipamento"
    ),
    "fleet": "frota, número de frota, prefixo, nº frota",
    "unit": "unidade, un, und, unid, unidade de medida",
    "each": "unitário, unit, preço unitário, pu, valor unitário, por unidade, vlr unit, vlr unitário, valor unit",
    "customer": "cliente, cli, proprietário, titular, dono",
    "vin": (
        "chassi, chassis, quadro, número do chassi, número de chassis, número de quadro, vin, nº chassi, número de "
        "série, nr chassis"
    ),
    "engine": "motor, mot, motorização, motores",
    "family": "família, grupo",
    "engine_family": (
        "tipo de motor, código motor, código do motor, família motor, família do motor, série do motor, tipo motor, "
        "cód motor, família de motor, designação motor, sigla motor, motor código"
    ),
    "make": "marca, montadora, fabricante veículo, mca",
    "brand": "marca peça, fabricante",
    "model": "modelo, mod, tipo veículo, versão modelo",
    "trim": "cor, carroceria, versão, câmbio, portas, acabamento, caixa de velocidades, pneus",
    "year": "ano, ano modelo, ano de fabricação, ano fabrico, ano fabricação, ano de fabrico",
    "date": "data, dt, dia, dat",
    "time": "hora, horário",
    "month": "mês, meses, mes",
    "mile": "milha, milhas",
    "km": "km, quilómetros, quilômetros, kms, quilómetro",
    "odometer": (
        "odómetro, hodômetro, conta quilómetros, leitura hodômetro, painel, odômetro, contador, leitura, leitura km, "
        "km painel, km atual, leitura do conta quilómetros, marcação km, conta km, km marcados, km lidos, leitura do "
        "painel, km no painel, km registado"
    ),
    "mileage": "quilometragem, kilometragem, rodagem, quilom",
    "in": (
        "entrada, chegada, recepção, receção, recebido, ent, na entrada, recebimento, à entrada, recebido em, "
        "deixado, trazido, chegou, data de recepção, data de receção, data de chegada, deu entrada, dt entrada, "
        "chegou em, recebida, recebido na oficina, à chegada, data receção, entrou, entrou em, dt abertura"
    ),
    "out": (
        "saída, entrega, retirada, levantamento, sai, na saída, à saída, entregue, devolução, levantado, devolvido, "
        "retirado, entregue em, data de entrega, entregue ao cliente, dt entrega, saiu, saiu em, devolvido em, à "
        "entrega, na entrega, levantada, levantado em, dt saída"
    ),
    "open": (
        "abertura, aberto, aberta, início, criação, criado, emissão, abert, quando, aberta em, data da ordem, data "
        "os, data da os"
    ),
    "close": (
        "fecho, fechamento, encerramento, fim, concluído, conclusão, término, fechado, encerrado, finalização, "
        "fechada, fechada em, terminada, concluída, concluído em, fechado em, data de conclusão, dt fecho, terminado "
        "em, finalizada, encerrada, encerrada em, acabado"
    ),
    "in_service": (
        "matrícula data, data de matrícula, primeira matrícula, entrada em circulação, data da matrícula, data "
        "matrícula, primeiro registo, primeiro emplacamento, emplacamento, data de compra, entrada em serviço, 1 "
        "matrícula, 1ª matrícula, em circulação desde, em serviço desde, na frota desde, entrada na frota, data 1ª "
        "matrícula, 1ª matrícula em, início de uso"
    ),
    "service": "serviço, manutenção, revisão",
    "void": "anulado, cancelado, anulada",
    "status": (
        "estado, situação, status, sit, estado da ordem, aberta ou fechada, estado da os, situação os, aberta "
        "fechada, situação da ordem"
    ),
    "is_open": "ainda aberta, está aberta, aberta sim não",
    "is_closed": "está fechada, fechada sim não",
    "location": (
        "filial, loja, unidade oficina, local, sede, centro, estabelecimento, oficina local, pólo, unidade, base, "
        "pátio, oficina nome, nome da oficina, ponto de serviço"
    ),
    "total": "total, valor total, tot, soma, total geral, total ordem, total os",
    "amount": "valor, montante, importância, vlr, cobrado, vl, faturado",
    "price": (
        "preço, preço de venda, venda, pvp, pv, tabela, preço venda, cobrado ao cliente, preço cliente, vendido, "
        "valor venda, valor de venda, faturado ao cliente, valor cobrado, vlr total item, vlr total, valor total "
        "item, valor item, cobrado cliente, valor faturado, total item, vlr venda, faturado cliente"
    ),
    "cost": (
        "custo, custos, preço de custo, compra, preço de compra, preço custo, pago por nós, custou, nosso custo, "
        "valor de custo, preço compra, valor custo, vlr custo, custo para nós, despesa com peça, custo linha, custo "
        "da linha, valor compra, gasto"
    ),
    "extended": "valor da linha, total linha, subtotal, total da linha, valor linha",
    "net": "líquido, sem iva, valor líquido, s iva, s imp",
    "gross": "bruto, com iva, iva incluído, c iva",
    "tax": "iva, imposto, icms, iss, impostos",
    "discount": "desconto, desc porcentagem, margem, abatimento",
    "payment": (
        "pagamento, pago, forma de pagamento, saldo, sinal, vencimento, seguro, seguradora, pago em, liquidado, data "
        "de pagamento, recebido valor"
    ),
    "rate": "valor hora, taxa horária, preço hora, tarifa",
    "labor": "mão de obra, mo, m o, mdo, mão obra",
    "part": "peça, peças, pç, sobressalente, peca, pc, pçs",
    "hours": (
        "horas, hrs, hs, h, tempo, horas faturadas, horas cobradas, tempo de trabalho, horas trabalho, quanto tempo, "
        "duração, tempo gasto, horas gastas, tempo de mão de obra, hrs trab, horas trab, horas vendidas, tempo "
        "cobrado, tempo mo"
    ),
    "actual": "real, reais, apontadas",
    "quantity": (
        "quantidade, qtd, qtde, quant, qte, qdade, quantos, quantas, unidades, qtd usada, peças usadas, qtd peças, "
        "unid usadas, quantidade usada"
    ),
    "kind": (
        "tipo, classe, categoria, tipo linha, tipo de linha, género, natureza, espécie, tipo da linha, tipo de item, "
        "tipo item, mão de obra ou peça, categoria linha, tipo de lançamento, mo peça, m p, t, natureza do item, tipo "
        "lançamento, natureza da linha, espécie de linha, rubrica"
    ),
    "record": "registo, registro, tipo registo, tipo registro, tipo de registo, tipo de registro, tr",
    "component": (
        "componente, órgão, conjunto, peça afetada, componente afetado, código componente, elemento, peça avariada, "
        "peça defeituosa, elemento avariado, o que avariou"
    ),
    "system": "sistema, área",
    "position": (
        "posição, lado, local da peça, número do cilindro, pos, cilindro nº, roda, eixo, lugar, onde, onde montado, "
        "local, lugar no veículo, local na viatura, local montagem, lado montagem, lado pos, frente trás, esq dir, "
        "qual, qual roda, onde no veículo, lado do veículo"
    ),
    "action": (
        "ação, tipo de serviço, tipo de trabalho, tipo de intervenção, ato, operação realizada, tipo serviço, acção, "
        "tipo trabalho, tipo intervenção, tipo de operação, operação, tarefa, trabalho, intervenção, o que fez, "
        "serviço tipo"
    ),
    "reason": (
        "motivo, razão, motivo da troca, motivo troca, motivo da substituição, porquê, motivo substituição, "
        "justificativa, por que, porque, porquê trocado, razão da troca, motivo do serviço, trocado porque, motivo do "
        "trabalho, justificação, motivo intervenção"
    ),
    "cause": (
        "causa, diagnóstico, constatado, achado, causa avaria, causa da avaria, encontrado, causa falha, constatação, "
        "laudo, o que foi encontrado, encontrado defeito, causa encontrada, avaria encontrada, defeito constatado, "
        "origem da avaria, defeito encontrado, o que se encontrou, achados, avaria constatada, causa constatada, "
        "causa real, detetado, defeito detetado, problema encontrado, diagnóstico técnico, constatado pelo mecânico"
    ),
    "correction": (
        "correção, trabalho realizado, serviço realizado, serviço executado, reparação efetuada, solução, serviços "
        "executados, trabalho efetuado, ação corretiva, executado, trabalhos realizados, trabalhos efetuados, "
        "realizado, reparo realizado, o que foi feito, feito, trabalho feito, serviço feito, reparação realizada, "
        "reparo executado, intervenção realizada, serviços realizados, descrição do serviço executado, o que se fez, "
        "reparo, como se resolveu, resolvido, executado texto, intervenção efetuada, intervenção feita, operação "
        "executada, reparo efetuado, descrição da reparação, relatório do mecânico, reparação, o que fizemos"
    ),
    "concern": (
        "queixa, reclamação, sintoma, sintomas, avaria, defeito, defeito relatado, pedido, solicitação, problema, "
        "relato cliente, motivo da visita, avaria declarada, solicitação cliente, pedido do cliente, anomalia, "
        "relato, reclamação do cliente, descrição da avaria, motivo visita, falha relatada, defeito reclamado, o que "
        "diz o cliente, cliente diz, cliente relata, relato do cliente, problema relatado, defeito informado, avaria "
        "relatada, falha reportada, motivo entrada, pedido cliente, reclamado, relato do condutor, relato condutor, "
        "cliente queixa, queixa do cliente, queixa cliente, segundo o cliente, o que o cliente diz, avaria segundo "
        "cliente, sintoma relatado, serviço solicitado, trabalho solicitado, motivo de entrada, razão da visita, "
        "problema do cliente, anomalia relatada, reclama"
    ),
    "description": (
        "descrição, descr, desc, detalhe, texto, designação, denominação, discriminação, descritivo, o quê, oque, "
        "serviço ou peça, trabalho ou peça, descrição do serviço, descrição do item, nome da peça, descrição do "
        "trabalho, peça ou serviço, peça serviço, peça ou trabalho, nome peça, descrição linha, descrição da linha, "
        "item descrição, designação da peça"
    ),
    "note": "nota, notas, comentário, comentários, observação, observações, obs",
    "supplier": (
        "fornecedor, forn, distribuidor, terceiro, subcontratado, fornec, comprado a, comprado em, comprado de, de "
        "quem, loja de peças, casa de peças, comprado, adquirido em, fornecida por, casa peças"
    ),
    "origin": (
        "origem, procedência, condição, qualidade, estado da peça, tipo de peça, tipo peça, novo usado, estado peça, "
        "condição da peça, proveniência, qualidade da peça, novo ou usado, novo ou recondicionado, estado, qualidade "
        "peça, proveniência da peça, nova usada, nova recond, estado pç, novo recondicionado"
    ),
    "technician": (
        "mecânico, técnico, mec, operário, tec, executado por, funcionário, colaborador, código mecânico, executante, "
        "quem, feito por, realizado por, mecânico nº, operador oficina, quem fez, mecânico responsável, nº mecânico, "
        "nº operário, cód mecânico"
    ),
    "person": (
        "consultor, recepcionista, vendedor, motorista, condutor, contacto, contato, usuário, utilizador, "
        "responsável, atendente, criado por, chefe de oficina, rececionista, aberto por, balcão, entregue por, "
        "levantado por, relatado por, recebido por, reclamante, condutor nome"
    ),
    "name": "nome, apelido, sobrenome, razão social, empresa, nome cliente",
    "phone": "telefone, tel, telemóvel, celular, fax, fone, tlm",
    "email": "email, correio eletrônico, e mail, mail, correio eletrónico",
    "address": "endereço, morada, rua, cidade, cep, código postal, bairro, país, localidade, concelho",
    "plate": "matrícula, placa, chapa, matr, placa do veículo",
    "birth": "data de nascimento, nascimento, sexo, idioma, cpf, cnpj, nif, contribuinte",
    "warranty": "garantia, gar, garantias",
    "dtc": (
        "código de falha, código de avaria, código de erro, código falha, código erro, código avaria, códigos de "
        "falha, códigos de avaria"
    ),
    "stage": (
        "momento, fase, etapa, antes depois, momento leitura, antes ou depois, antes ou depois da reparação, quando "
        "lido"
    ),
    "check": (
        "teste, verificação, controlo, controle, ensaio, teste de estrada, inspeção, comprovação, conferência, tipo "
        "de teste"
    ),
    "measure": "medida, medição, grandeza, parâmetro, medido, tipo de medição",
    "value": "valor medido, leitura, valor lido, valor, medido, leitura valor",
    "result": "resultado, res",
    "pass": "aprovado, conforme, passou, ok, apto, correto, aprovada",
    "pull": "repetição, tentativa, ensaio nº, ciclo, rept, nº medição, teste nº, número do ensaio",
    "cylinder": "cilindro, cilindros, cil, número de cilindros, nº cilindros, qtd cilindros",
    "exhaust": "escape, escapamento, esc",
    "intake": "admissão, adm",
    "valve": "válvula, válvulas, valv",
    "displacement": "cilindrada, litros, cc, cm3",
    "fuel": "combustível, potência, cv, kw",
    "tool": (
        "armazém, peso, foto, assinatura, prioridade, próxima revisão, inspeção periódica, alterado, impresso, última "
        "visita, código operação, estoque, prateleira, data prevista, previsão, previsão entrega, elevador, conta, "
        "centro de custo, data prometida, prometido, entrega prevista, box, posto de trabalho, baia, previsto, "
        "prometido para, viatura de substituição, nº chaves, nº linhas, quantidade de linhas, nível combustível, ipo, "
        "próxima ipo, apólice, lugar na oficina"
    ),
    "part_number": (
        "ref peça, código da peça, código peça, cód peça, código, cód item, nº de peça, ref artigo, código artigo, "
        "cód produto, código produto, referência peça"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
