"""Everyday words that a slip of the pen must not be taken for, and that are not corrected into words of the trade."""

from __future__ import annotations

from longmile.pipelines.coding.word_table import word_set

PLAIN_WORDS = word_set(
    """
a able abnormal about above according acid across action active actual adapt add added adding additional additive
advised advisor aerosol after afternoon again against age aged ago agree ahead air algae all allow allowed almost alone
along already alright also alternate although always am among amount an and angle angles another answer antenna any
anyone anything apart appear appears appointment approval approve approved approx approximately april are area areas
around arrival arrive arrived arrow article artist as ashes aside ask asked asking at attach attached attempt attempted
attention august authorization authorize authorized auto away axle baby back backed backing backward bad badge badly
bag bakery balance ballpark bang bank bare barely barn bars base based basket bath be beam bean bear beard beat because
become been beer before began begin behind being believe bell below bench bend bent beside best better between beyond
big bike bill bird birth bit bitter black blade blanket bleed blind blood blow blowing blown blows blue board body boil
bone book border borrow boss both bothe bottle bottom bought bound bowl box brand bread break breakfast breaking breaks
breath breeze brick bridge brief bright bring bringing broke broken brother brought brown brush bubble bubbles bucket
budget build bullet bump bumps bumpy bunch burger burn burned burning burnt bush business busy but butter button buy
buzz by cabin cake call called calls came camp can candy cannot capacity captain car carbon care career carefully cargo
carpet carried carrots carry carrying cars case cash catch cattle caught cause caused causes causing ceiling cellar
center certain chain chalk chance change changed changes channel charged charges charging cheap cheaper check cheek
cheese chemical chemically cherry chest chicken chief child children chip chocolate choice chose church cigar circle
circuit city claim clamp class clay clean clear cleared clearing clerk clicking client cliff climb clock close closed
closely closes closing cloth cloud clouds club coach coal coast coat coated code coded codes coffee coin cold collapse
collect college collision color combustion come comes comfort coming comma command comment common company compare
compared compartment complaint complete completed completely compressed concern concrete condition congress connect
connected connecting connection connections consent consider consult contact contacts contain contains content continue
continued continues contour cook cookie cool cooled cooling cools copper copy core corn corner correct corrected
correctly cost cotton cough could count country couple courage course court cousin cover coverage covered covers cow
crack cranks crash cream creek crew crop cross crowd crown cruise cruising cup curb currency current currently curtain
curve cushion custom customer customers cut cycle cylinder daily damp dance danger dark dash data date dated daughter
day days dead deaf deal dealer debris debt december decide decided deep deer definite degree degrees delay deliver
delivered dented dentist depends depth desert desire desired desk detail details determine determined developed device
diamond did die died diet difference different difficult digital dinner dip direct direction directly dirt dirty
disabled discuss discussed dish dispose distance ditch do dock doctor document does dog doing doll dollars done donkey
door doors double doubt down downhill downstream dozen draw drawing dream dress dried drilled drink drip dripping drive
driven driver drivers drives driveway driving drop dropped dropping drops drove drown dry dual duck due dump during
dust dusty duty dye each eagle ear earlier early earth easily east easy eat economy edge effect egg eight eighteen
eighty either elastic elbow electrical elephant eleven else empty end ended ends engage engaged engages engineer enjoy
enough enter entered entire envelope equal error escape especially estimate etc even evening event eventually ever
every everything evidence exact exactly exam exceeds except excess excessive exhaust exist existing expect expected
experience expert explain explained external extra extreme eye fabric face fact factor factory fail failed failing
fails failure fair faith fall fallen falling false family fancy far farm farmer fashion fast faster father faults
faulty feb february feel feels feet fell felt fence fever few field fifteen fifth fifty fight figure file fill filled
film final finally find finding fine finger finish finished fins fire firewall firm first fishing fit fits fitting five
fix flag flakes flame flash flashing flat flatbed flavor fleet flesh flight flood floor flow flower flows fluid fluids
foam foggy fold follow followed following foot for force foreign forest forget fork fortune forty forward foul found
four fourth frame free freedom freely freeway freeze freight frequent fresh friday friend from front frozen fruit
fueling full fully function functional functions funny further future gain gal gallon gallons gap garage garbage garden
gas gate gauge gave gear general gentle gently get gets getting ghost giant gift girl give given gives giving glad
glass gloves glue go goal goes going gold golf gone good got gradually grain grand grandma grape grass grave gravel
gray grease great green grey grind grinding groan ground group grow guarantee guess guest guide gun guy habit had hail
hair half hammer hand handle handy hang happen happened happens happy harbor hard hardly harsh harvest has hat have
having hay he head hear heard heat heated heaven heavily heavy held hell help hence her herb here hero hers high higher
highway hiking hill hills him his hit hits hobby hockey hold holding holds hole holes holiday home honest honey hook
hope hoped horizon horse hospital hot hotel hour hours house household how however hub huge human hundred hundreds hung
hungry hunt hunting hurry husband i ice icy id idea idle idles idling if illegal image immediately impact important
improved in inc inch inches incl include included includes including income incoming increase increased indicate
indicated indicates inform information initial injury inline inner insect inside inspect install instead instruct
insulation insurance intake interest intermittently internal internally into investigate invoice iron is island isn
isolated issue issues it item items its itself jacket jail jammed january jelly jerk jewel job jobs joke journey judge
juice july jump jumped june jungle junior jury just keen keep keeps kept key kid kids kind kit kitchen knee knew knife
knock know knowing known lack ladder lady lake lamb land landing lane language large last late later laugh law lawn
lawyer lazy leaf learn leather leave leaves leaving led left leg legal lemon length less lesson let letter level levels
library license life lift lifted light lighter lightly like likely limit limited limits line lips liquid list listed
listen little live load loaded loading loan lobster local locate located location lock locked locking locks logic
lonely long longer look looked looking looks loose loosen lose loses losing loss lost lot loud loudly lovely low lower
lowered loyal lube lubed luck lucky lug lunch lunchtime machine made magazine magic magnet mail main mainly major make
makes making mama man manage manager manual many maple march mark marked market marks married mass mat match matter max
maximum may maybe mayor me meal mean means measure meat medal medicine meet meets memory mercy mess message metal
middle might mild mile miles milk mill mind mine mineral minimal minor minus minute minutes miss missed missing mission
missions mistake mix mixed mobile mode model modern modify moist moisture moment monday money monkey month months moon
moral more morning most mother motorway mount mountain mouse mouth move moved movement moves movie moving much mud
muddy mule muscle music must my nail naked name narrow nation nature near nearly nearside neat neck need needed needing
needle needs neighbor neither nephew nerve nest net never new next nice night nine ninety no noble nobody noise noises
none noodle noon normal normally north not note noted notes nothing notice noticed november now number numbers nurse
oak object obvious ocean october odd odor off offer offered office offside often oil oily okay old older on once one
ones onion only onto open opened opening opens opera operate operated operates operating operation operational opinion
opposite or orange orchard order ordered orders organ origin original other others our out outer outlet outside oven
over overall overflow own owner oz pack package page paid paint pair palace panic pants paper parade parcel pardon
parent parish park parked parking part partner parts party pass passed passenger passes passing past pasture path
patient pattern pause pay payday payment peace peach peanut pear peel pencil people pepper per percent perfect perform
performed performs perfume perhaps period permanent permit person pet phone piano pick picked picking pickup picnic pie
piece pieces pig pillow pilot pin pinched pine pink pinyon pirate pizza place placed plain plan plane planet plastic
plate play pleasant please plenty plow plum pocket poem poet point points poison police polite pond pony poor pop
popping popular porch pork port position possible possibly post pot potato potential pothole pound pounds pour powder
power prayer pre prefer presence present press pressed pretty previous previously price pride priest prince print prior
prison prize probably problem problems procedure proceed process produce product profit program progress prop proper
properly protect proud prove proved provide pudding puddle pulled pulling pulls pulse puppy purchase purchased purple
purpose purse push pushed pushing put puts putting puzzle quality quarrel quart quarts queen question quick quickly
quiet quit quite rabbit race ragged railway rain rainy raise raised ran ranch random range rare rate rated rather ratio
rattling raw razor reach reached read reading readings reads ready real really rear reason rebel rebuild receive
received recent recently recheck recipe recommend record recovered recovery red reduce reduced refer reference refuse
regular related relative relearn religion remain remaining remains remember remind reminder remote remould rent replied
report reported request requested rerouted reserve residue resistance respect rest restart restore restricted result
results retail retest retract return returned returning returns reverse revs ribbon rich ride rides riding rifle right
ring river road roads roast robot rock rocket rocks rod roll rolled rolling rolls romance roof room rope rose rotate
rotated rotation rough roughly round route routed royal rub rubbed rubber rubbing rubs rug ruin rumble run running runs
rural rush rusty sad saddle safe safety said sail salad salary salmon salt same sand sandwich sat saturated saturday
sauce sausage save saw say saying says scale scan scared scene scheduled school scissors scout scrape scrapes scrapping
scratch scratched screech screw sea seal sealed sealer seals seam search season seat second secondary secret section
secure secured see seed seem seems seen seeping seized select sell senate send sending senior sent sentence separate
september serious serve service set sets setting settle seven seventy several severe severely shade shadow shake shakes
shaking shame shape share shark sharp she sheared sheep sheet shelf shell shelter sheriff shift shifter shifting shifts
shine shiny ship shipped shirt shoe shop shore short shorts should shoulder shoulders shovel show showed shower showing
shown shows shudder shut shuts sick side sides sidewalk sign signal signals signed significant silent silicone silk
silver similar simple since single sink sister sit site sits sitting six sixteen sixty size skid skill skin skip skirt
sky slack slam slave sleep sleeve slice slide slight slightly slip slipping slop slow slowly small smart smell smells
smile smoke smoking smooth smoothly snake snap snapped snow so soaked soap soccer social sockets sofa soft soil soldier
solid some someone something sometimes son soon sort soul sound sounds soup south space spare spark speak spec special
specified specs speeds spell spice spider spin spins spirit spit splash spline splines split spoke spoken spoon sport
spot spots spouse spray spread spun squad square squeak squeaks squeaky squeal squeals squirt stable stadium stage
stall stalled stalling stalls stamp stand standard standing star start started starting starts startup state stated
states station statue status stay stayed stays steady steak steal steam steel steep stem step steps stick sticker
sticking sticks stiff still stock stolen stomach stone stop stopped stopping stops storage store stored storm story
stove straight stranded strange stranger straw stream street stretch stretched strip stripped strong struck struggle
stuck student studio style subject suburb such sucked sudden suddenly sugar suggest suit suitable summer sump sun
sunday supper supplied supplier supply sure surface surge surging surprise swap swapped sway sweep swim swing swirl
swollen sword symptom symptoms system systems table tail take taken takes taking tale talent talk talked talking tall
tap tape tapped tapping target task taste tax tea teacher team tear teeth tell telling ten tend tent term test tested
testing tests than thank thanks that the theater theft their them then there these they thick thief thin thing things
think thinking third thirsty thirteen this those though thought thousand thread threads three threw throttle through
throughout throw thru thumb thump thumping thursday thus tick ticket ticking ticks tie tied tiger tight tightly till
timber time timed times tip tire tired title to toast tobacco today toe together told tomato tomorrow tone tongue too
took tool tooth top topic torch torn total touch touched touching tough toward towards towed towel tower town toy trace
traced track tract tractor trade traffic trail trailer transfer trash travel tray tread treasure treat treaty tree
tribe trick tried trigger trim trip tropical trouble truck true trumpet trunk trust truth try trying tuesday tune
tunnel turkey turn turned turning turns twelve twenty twice twin twist twisted two type typical ugly uh um uncle under
underneath undo uneven unhook unhooked uniform union unit unknown unless unplugged until unusual up update upon upper
uprated upside upstream urban us use used uses using usual usually utility vacation vacuum valley value van various
vegetable vehicle velvet verify verse version very via vibrates vibrating victim view village vinegar violin virus
visible visit visual visually voice voltage volume vote voyage wag wagon waist wait waited waiting waived walk walking
wall wallet wander want wanted wanting wants warm warmed warming warn warning warrant warranty was wash washed washer
waste watch water watered wave way we weak wealth weapon wear wearing weather wedding wednesday weed week weekday
weekend weeks weight welded well went were west wet whale what wheat wheel wheels when where whether which while whine
whining whisper whistle white who whole why wide widow width wife will wind windy winner winter wipe wire wires wisdom
with within without wobble wobbles wobbly wolf woman wonder wont wood wool word work worked worker working works world
worn worry worse worst worth would wound wrap wrench writer wrong yard yarn year years yellow yes yesterday yet yoke
you young your youth zebra zero zone
"""
)
"""Words left as they are written."""
