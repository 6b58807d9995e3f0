BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
INSERT INTO "auth_group" VALUES(1,'reader');
INSERT INTO "auth_group" VALUES(2,'bench');
INSERT INTO "auth_group" VALUES(3,'office');
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "auth_group_permissions" VALUES(1,1,13);
INSERT INTO "auth_group_permissions" VALUES(2,2,13);
INSERT INTO "auth_group_permissions" VALUES(3,2,14);
INSERT INTO "auth_group_permissions" VALUES(4,3,13);
INSERT INTO "auth_group_permissions" VALUES(5,3,14);
INSERT INTO "auth_group_permissions" VALUES(6,3,15);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
INSERT INTO "auth_permission" VALUES(1,1,'add_permission','Can add permission');
INSERT INTO "auth_permission" VALUES(2,1,'change_permission','Can change permission');
INSERT INTO "auth_permission" VALUES(3,1,'delete_permission','Can delete permission');
INSERT INTO "auth_permission" VALUES(4,1,'view_permission','Can view permission');
INSERT INTO "auth_permission" VALUES(5,2,'add_group','Can add group');
INSERT INTO "auth_permission" VALUES(6,2,'change_group','Can change group');
INSERT INTO "auth_permission" VALUES(7,2,'delete_group','Can delete group');
INSERT INTO "auth_permission" VALUES(8,2,'view_group','Can view group');
INSERT INTO "auth_permission" VALUES(9,3,'add_user','Can add user');
INSERT INTO "auth_permission" VALUES(10,3,'change_user','Can change user');
INSERT INTO "auth_permission" VALUES(11,3,'delete_user','Can delete user');
INSERT INTO "auth_permission" VALUES(12,3,'view_user','Can view user');
INSERT INTO "auth_permission" VALUES(13,4,'see','See jobs, readings and results');
INSERT INTO "auth_permission" VALUES(14,4,'enter','Take readings and photos, decide on parts');
INSERT INTO "auth_permission" VALUES(15,4,'office','Keep customers, units, model sheets and instruments; import and export');
INSERT INTO "auth_permission" VALUES(16,5,'add_contenttype','Can add content type');
INSERT INTO "auth_permission" VALUES(17,5,'change_contenttype','Can change content type');
INSERT INTO "auth_permission" VALUES(18,5,'delete_contenttype','Can delete content type');
INSERT INTO "auth_permission" VALUES(19,5,'view_contenttype','Can view content type');
INSERT INTO "auth_permission" VALUES(20,6,'add_session','Can add session');
INSERT INTO "auth_permission" VALUES(21,6,'change_session','Can change session');
INSERT INTO "auth_permission" VALUES(22,6,'delete_session','Can delete session');
INSERT INTO "auth_permission" VALUES(23,6,'view_session','Can view session');
INSERT INTO "auth_permission" VALUES(24,7,'add_accessattempt','Can add access attempt');
INSERT INTO "auth_permission" VALUES(25,7,'change_accessattempt','Can change access attempt');
INSERT INTO "auth_permission" VALUES(26,7,'delete_accessattempt','Can delete access attempt');
INSERT INTO "auth_permission" VALUES(27,7,'view_accessattempt','Can view access attempt');
INSERT INTO "auth_permission" VALUES(28,8,'add_accesslog','Can add access log');
INSERT INTO "auth_permission" VALUES(29,8,'change_accesslog','Can change access log');
INSERT INTO "auth_permission" VALUES(30,8,'delete_accesslog','Can delete access log');
INSERT INTO "auth_permission" VALUES(31,8,'view_accesslog','Can view access log');
INSERT INTO "auth_permission" VALUES(32,9,'add_accessfailurelog','Can add access failure');
INSERT INTO "auth_permission" VALUES(33,9,'change_accessfailurelog','Can change access failure');
INSERT INTO "auth_permission" VALUES(34,9,'delete_accessfailurelog','Can delete access failure');
INSERT INTO "auth_permission" VALUES(35,9,'view_accessfailurelog','Can view access failure');
INSERT INTO "auth_permission" VALUES(36,10,'add_accessattemptexpiration','Can add access attempt expiration');
INSERT INTO "auth_permission" VALUES(37,10,'change_accessattemptexpiration','Can change access attempt expiration');
INSERT INTO "auth_permission" VALUES(38,10,'delete_accessattemptexpiration','Can delete access attempt expiration');
INSERT INTO "auth_permission" VALUES(39,10,'view_accessattemptexpiration','Can view access attempt expiration');
INSERT INTO "auth_permission" VALUES(40,11,'add_customer','Can add customer');
INSERT INTO "auth_permission" VALUES(41,11,'change_customer','Can change customer');
INSERT INTO "auth_permission" VALUES(42,11,'delete_customer','Can delete customer');
INSERT INTO "auth_permission" VALUES(43,11,'view_customer','Can view customer');
INSERT INTO "auth_permission" VALUES(44,12,'add_unit','Can add unit');
INSERT INTO "auth_permission" VALUES(45,12,'change_unit','Can change unit');
INSERT INTO "auth_permission" VALUES(46,12,'delete_unit','Can delete unit');
INSERT INTO "auth_permission" VALUES(47,12,'view_unit','Can view unit');
INSERT INTO "auth_permission" VALUES(48,13,'add_instrument','Can add instrument');
INSERT INTO "auth_permission" VALUES(49,13,'change_instrument','Can change instrument');
INSERT INTO "auth_permission" VALUES(50,13,'delete_instrument','Can delete instrument');
INSERT INTO "auth_permission" VALUES(51,13,'view_instrument','Can view instrument');
INSERT INTO "auth_permission" VALUES(52,14,'add_job','Can add job');
INSERT INTO "auth_permission" VALUES(53,14,'change_job','Can change job');
INSERT INTO "auth_permission" VALUES(54,14,'delete_job','Can delete job');
INSERT INTO "auth_permission" VALUES(55,14,'view_job','Can view job');
INSERT INTO "auth_permission" VALUES(56,15,'add_person','Can add person');
INSERT INTO "auth_permission" VALUES(57,15,'change_person','Can change person');
INSERT INTO "auth_permission" VALUES(58,15,'delete_person','Can delete person');
INSERT INTO "auth_permission" VALUES(59,15,'view_person','Can view person');
INSERT INTO "auth_permission" VALUES(60,16,'add_part','Can add part');
INSERT INTO "auth_permission" VALUES(61,16,'change_part','Can change part');
INSERT INTO "auth_permission" VALUES(62,16,'delete_part','Can delete part');
INSERT INTO "auth_permission" VALUES(63,16,'view_part','Can view part');
INSERT INTO "auth_permission" VALUES(64,17,'add_disposition','Can add disposition');
INSERT INTO "auth_permission" VALUES(65,17,'change_disposition','Can change disposition');
INSERT INTO "auth_permission" VALUES(66,17,'delete_disposition','Can delete disposition');
INSERT INTO "auth_permission" VALUES(67,17,'view_disposition','Can view disposition');
INSERT INTO "auth_permission" VALUES(68,18,'add_change','Can add change');
INSERT INTO "auth_permission" VALUES(69,18,'change_change','Can change change');
INSERT INTO "auth_permission" VALUES(70,18,'delete_change','Can delete change');
INSERT INTO "auth_permission" VALUES(71,18,'view_change','Can view change');
INSERT INTO "auth_permission" VALUES(72,19,'add_photo','Can add photo');
INSERT INTO "auth_permission" VALUES(73,19,'change_photo','Can change photo');
INSERT INTO "auth_permission" VALUES(74,19,'delete_photo','Can delete photo');
INSERT INTO "auth_permission" VALUES(75,19,'view_photo','Can view photo');
INSERT INTO "auth_permission" VALUES(76,20,'add_reading','Can add reading');
INSERT INTO "auth_permission" VALUES(77,20,'change_reading','Can change reading');
INSERT INTO "auth_permission" VALUES(78,20,'delete_reading','Can delete reading');
INSERT INTO "auth_permission" VALUES(79,20,'view_reading','Can view reading');
INSERT INTO "auth_permission" VALUES(80,21,'add_result','Can add result');
INSERT INTO "auth_permission" VALUES(81,21,'change_result','Can change result');
INSERT INTO "auth_permission" VALUES(82,21,'delete_result','Can delete result');
INSERT INTO "auth_permission" VALUES(83,21,'view_result','Can view result');
INSERT INTO "auth_permission" VALUES(84,22,'add_checkstanding','Can add check standing');
INSERT INTO "auth_permission" VALUES(85,22,'change_checkstanding','Can change check standing');
INSERT INTO "auth_permission" VALUES(86,22,'delete_checkstanding','Can delete check standing');
INSERT INTO "auth_permission" VALUES(87,22,'view_checkstanding','Can view check standing');
INSERT INTO "auth_permission" VALUES(88,23,'add_sheetversion','Can add version of a model sheet');
INSERT INTO "auth_permission" VALUES(89,23,'change_sheetversion','Can change version of a model sheet');
INSERT INTO "auth_permission" VALUES(90,23,'delete_sheetversion','Can delete version of a model sheet');
INSERT INTO "auth_permission" VALUES(91,23,'view_sheetversion','Can view version of a model sheet');
INSERT INTO "auth_permission" VALUES(92,24,'add_shop','Can add shop');
INSERT INTO "auth_permission" VALUES(93,24,'change_shop','Can change shop');
INSERT INTO "auth_permission" VALUES(94,24,'delete_shop','Can delete shop');
INSERT INTO "auth_permission" VALUES(95,24,'view_shop','Can view shop');
INSERT INTO "auth_permission" VALUES(96,25,'add_approval','Can add approval');
INSERT INTO "auth_permission" VALUES(97,25,'change_approval','Can change approval');
INSERT INTO "auth_permission" VALUES(98,25,'delete_approval','Can delete approval');
INSERT INTO "auth_permission" VALUES(99,25,'view_approval','Can view approval');
INSERT INTO "auth_permission" VALUES(100,26,'add_shopkey','Can add signing key');
INSERT INTO "auth_permission" VALUES(101,26,'change_shopkey','Can change signing key');
INSERT INTO "auth_permission" VALUES(102,26,'delete_shopkey','Can delete signing key');
INSERT INTO "auth_permission" VALUES(103,26,'view_shopkey','Can view signing key');
INSERT INTO "auth_permission" VALUES(104,27,'add_seal','Can add seal');
INSERT INTO "auth_permission" VALUES(105,27,'change_seal','Can change seal');
INSERT INTO "auth_permission" VALUES(106,27,'delete_seal','Can delete seal');
INSERT INTO "auth_permission" VALUES(107,27,'view_seal','Can view seal');
INSERT INTO "auth_permission" VALUES(108,28,'add_meter','Can add meter');
INSERT INTO "auth_permission" VALUES(109,28,'change_meter','Can change meter');
INSERT INTO "auth_permission" VALUES(110,28,'delete_meter','Can delete meter');
INSERT INTO "auth_permission" VALUES(111,28,'view_meter','Can view meter');
INSERT INTO "auth_permission" VALUES(112,29,'add_broughtseal','Can add seal brought in');
INSERT INTO "auth_permission" VALUES(113,29,'change_broughtseal','Can change seal brought in');
INSERT INTO "auth_permission" VALUES(114,29,'delete_broughtseal','Can delete seal brought in');
INSERT INTO "auth_permission" VALUES(115,29,'view_broughtseal','Can view seal brought in');
CREATE TABLE "auth_user" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "is_superuser" bool NOT NULL, "username" varchar(150) NOT NULL UNIQUE, "last_name" varchar(150) NOT NULL, "email" varchar(254) NOT NULL, "is_staff" bool NOT NULL, "is_active" bool NOT NULL, "date_joined" datetime NOT NULL, "first_name" varchar(150) NOT NULL);
CREATE TABLE "auth_user_groups" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" integer NOT NULL REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_user_user_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" integer NOT NULL REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "axes_accessattempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "get_data" text NOT NULL, "post_data" text NOT NULL, "failures_since_start" integer unsigned NOT NULL CHECK ("failures_since_start" >= 0));
CREATE TABLE "axes_accessattemptexpiration" ("access_attempt_id" integer NOT NULL PRIMARY KEY REFERENCES "axes_accessattempt" ("id") DEFERRABLE INITIALLY DEFERRED, "expires_at" datetime NOT NULL);
CREATE TABLE "axes_accessfailurelog" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "locked_out" bool NOT NULL);
CREATE TABLE "axes_accesslog" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "logout_time" datetime NULL, "session_hash" varchar(64) NOT NULL);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
INSERT INTO "django_content_type" VALUES(1,'auth','permission');
INSERT INTO "django_content_type" VALUES(2,'auth','group');
INSERT INTO "django_content_type" VALUES(3,'auth','user');
INSERT INTO "django_content_type" VALUES(4,'web','shop');
INSERT INTO "django_content_type" VALUES(5,'contenttypes','contenttype');
INSERT INTO "django_content_type" VALUES(6,'sessions','session');
INSERT INTO "django_content_type" VALUES(7,'axes','accessattempt');
INSERT INTO "django_content_type" VALUES(8,'axes','accesslog');
INSERT INTO "django_content_type" VALUES(9,'axes','accessfailurelog');
INSERT INTO "django_content_type" VALUES(10,'axes','accessattemptexpiration');
INSERT INTO "django_content_type" VALUES(11,'record','customer');
INSERT INTO "django_content_type" VALUES(12,'record','unit');
INSERT INTO "django_content_type" VALUES(13,'record','instrument');
INSERT INTO "django_content_type" VALUES(14,'record','job');
INSERT INTO "django_content_type" VALUES(15,'record','person');
INSERT INTO "django_content_type" VALUES(16,'record','part');
INSERT INTO "django_content_type" VALUES(17,'record','disposition');
INSERT INTO "django_content_type" VALUES(18,'record','change');
INSERT INTO "django_content_type" VALUES(19,'record','photo');
INSERT INTO "django_content_type" VALUES(20,'record','reading');
INSERT INTO "django_content_type" VALUES(21,'record','result');
INSERT INTO "django_content_type" VALUES(22,'record','checkstanding');
INSERT INTO "django_content_type" VALUES(23,'record','sheetversion');
INSERT INTO "django_content_type" VALUES(24,'record','shop');
INSERT INTO "django_content_type" VALUES(25,'record','approval');
INSERT INTO "django_content_type" VALUES(26,'record','shopkey');
INSERT INTO "django_content_type" VALUES(27,'record','seal');
INSERT INTO "django_content_type" VALUES(28,'record','meter');
INSERT INTO "django_content_type" VALUES(29,'record','broughtseal');
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-26 18:43:26.695638');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-26 18:43:26.715687');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-26 18:43:26.742153');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-26 18:43:26.755216');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-26 18:43:26.771320');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-26 18:43:26.784409');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-26 18:43:26.813624');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-26 18:43:26.815572');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-26 18:43:26.827763');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-26 18:43:26.841512');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-26 18:43:26.862135');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-26 18:43:26.876659');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-26 18:43:26.887788');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-26 18:43:26.906914');
INSERT INTO "django_migrations" VALUES(15,'axes','0001_initial','2026-11-26 18:43:26.911855');
INSERT INTO "django_migrations" VALUES(16,'axes','0002_auto_20151217_2044','2026-11-26 18:43:26.977329');
INSERT INTO "django_migrations" VALUES(17,'axes','0003_auto_20160322_0929','2026-11-26 18:43:27.003916');
INSERT INTO "django_migrations" VALUES(18,'axes','0004_auto_20181024_1538','2026-11-26 18:43:27.020942');
INSERT INTO "django_migrations" VALUES(19,'axes','0005_remove_accessattempt_trusted','2026-11-26 18:43:27.032560');
INSERT INTO "django_migrations" VALUES(20,'axes','0006_remove_accesslog_trusted','2026-11-26 18:43:27.043648');
INSERT INTO "django_migrations" VALUES(21,'axes','0007_alter_accessattempt_unique_together','2026-11-26 18:43:27.083344');
INSERT INTO "django_migrations" VALUES(22,'axes','0008_accessfailurelog','2026-11-26 18:43:27.092930');
INSERT INTO "django_migrations" VALUES(23,'axes','0009_add_session_hash','2026-11-26 18:43:27.103870');
INSERT INTO "django_migrations" VALUES(24,'axes','0010_accessattemptexpiration','2026-11-26 18:43:27.117058');
INSERT INTO "django_migrations" VALUES(25,'record','0001_first','2026-11-26 18:43:27.682407');
INSERT INTO "django_migrations" VALUES(26,'record','0002_kept_for_good','2026-11-26 18:43:27.732418');
INSERT INTO "django_migrations" VALUES(27,'record','0003_reason_of_a_struck_reading','2026-11-26 18:43:27.870834');
INSERT INTO "django_migrations" VALUES(28,'record','0004_approval','2026-11-26 18:43:27.990246');
INSERT INTO "django_migrations" VALUES(29,'record','0005_what_the_shop_prints','2026-11-26 18:43:28.015319');
INSERT INTO "django_migrations" VALUES(30,'record','0006_chained_and_sealed','2026-11-26 18:43:28.293803');
INSERT INTO "django_migrations" VALUES(31,'record','0007_meters_that_talk','2026-11-26 18:43:28.537674');
INSERT INTO "django_migrations" VALUES(32,'record','0008_seals_brought_in','2026-11-26 18:43:28.617774');
INSERT INTO "django_migrations" VALUES(33,'sessions','0001_initial','2026-11-26 18:43:28.625769');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
CREATE TABLE "record_approval" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "answer" varchar(8) NOT NULL, "choice" varchar(8) NOT NULL, "said_by" varchar(120) NOT NULL, "way" varchar(12) NOT NULL, "note" text NOT NULL, "shown" text NOT NULL CHECK ((JSON_VALID("shown") OR "shown" IS NULL)), "sha256" varchar(64) NOT NULL, "software_version" varchar(40) NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_approval" VALUES(1,'approved','must','Ada (invented)','by telephone','','{"added": [], "as_it_is": null, "choices": [{"cost": ["209.5717925", "209.5717925"], "deposit": "0", "for_each": null, "key": "must", "labour": ["137.61075", "137.61075"], "life": null, "line": "Rebuild, what must be done: 209.57 EUR (parts 38.50 EUR, labour 137.61 EUR, tax 33.46 EUR); how long it lasts is not known.", "parts": ["38.50", "38.50"], "tax": ["33.4610425", "33.4610425"], "title": "Rebuild, what must be done"}, {"cost": ["343.91000", "343.91000"], "deposit": "0", "for_each": null, "key": "exchange", "labour": ["0.000", "0.000"], "life": null, "line": "Exchange unit: 343.91 EUR (unit 289.00 EUR, labour 0.00 EUR, tax 54.91 EUR); how long it lasts is not known.", "parts": ["289", "289"], "tax": ["54.91000", "54.91000"], "title": "Exchange unit"}], "currency": "EUR", "labour_rate": "64.005", "parts": [{"hours": ["0.4", "0.4"], "name": "brush set", "need": "must", "price": ["38.50", "38.50"], "why": "", "worn": null}], "said": ["How much it has run is not known, so nothing can be said about how long it lasts.", "How long it is to last was not said: only prices were compared."], "service": {"so_far": null, "unit": "hours", "wanted": null}, "shown": ["Rebuild, what must be done: 209.57 EUR. It is the cheapest.", "Rebuild, what must be done: 209.57 EUR (parts 38.50 EUR, labour 137.61 EUR, tax 33.46 EUR); how long it lasts is not known.", "Exchange unit: 343.91 EUR (unit 289.00 EUR, labour 0.00 EUR, tax 54.91 EUR); how long it lasts is not known."], "tax": "0.19", "title": "T-100", "verdict": "must", "why": "It is the cheapest."}','99c315e53eb7a72be1cd373c6702bd7fc82a8d50370308d6bfc75e86b47d37ab','0.1.0','2026-11-26 18:43:31.880480',1,NULL);
CREATE TABLE "record_broughtseal" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" varchar(40) NOT NULL, "packed" BLOB NOT NULL, "digest" varchar(64) NOT NULL, "shop" varchar(200) NOT NULL, "key" varchar(64) NOT NULL, "signed_at" datetime NULL, "taken" varchar(8) NOT NULL, "altered" text NOT NULL CHECK ((JSON_VALID("altered") OR "altered" IS NULL)), "photos" text NOT NULL CHECK ((JSON_VALID("photos") OR "photos" IS NULL)), "brought_at" datetime NOT NULL, "job_id" bigint NOT NULL UNIQUE REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "record_change" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "what" varchar(60) NOT NULL, "line" text NOT NULL, "details" text NOT NULL CHECK ((JSON_VALID("details") OR "details" IS NULL)), "job_id" bigint NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_change" VALUES(1,'2026-11-26 18:43:30.722360','unit added','Unit T-100, serial S1','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(2,'2026-11-26 18:43:30.730058','customer added','Customer Invented Farm','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(3,'2026-11-26 18:43:30.748533','sheet stored','Sheet demo-57-wave, version 1: Invented 12 V starter, 57 bars, wave wound','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(4,'2026-11-26 18:43:30.756793','job opened','Job 2026-0007: unit T-100 of Invented Farm','{}',1,1);
INSERT INTO "record_change" VALUES(5,'2026-11-26 18:43:31.839900','photo added','Job 2026-0007: photo drive end','{}',1,1);
INSERT INTO "record_change" VALUES(6,'2026-11-26 18:43:31.868280','part recorded','Job 2026-0007: 2 bush replaced','{}',1,1);
INSERT INTO "record_change" VALUES(7,'2026-11-26 18:43:31.877012','part decided','Job 2026-0007: Commutator: rework','{}',1,1);
INSERT INTO "record_change" VALUES(8,'2026-11-26 18:43:31.881095','price answered','Job 2026-0007: approved by Ada (invented), by telephone: Rebuild, what must be done','{}',1,NULL);
CREATE TABLE "record_checkstanding" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "in_force" integer unsigned NOT NULL CHECK ("in_force" >= 0), "touches" integer unsigned NOT NULL CHECK ("touches" >= 0), "decided_touches" integer unsigned NOT NULL CHECK ("decided_touches" >= 0), "touched_at" datetime NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "result_id" bigint NULL REFERENCES "record_result" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "one_standing_per_check" UNIQUE ("job_id", "station_key", "check_key"));
INSERT INTO "record_checkstanding" VALUES(1,'commutator','diameter',1,2,2,'2026-11-26 18:43:30.827616',1,2);
INSERT INTO "record_checkstanding" VALUES(2,'armature','winding',57,59,59,'2026-11-26 18:43:31.499470',1,4);
INSERT INTO "record_checkstanding" VALUES(3,'intake','turns-by-hand',1,1,1,'2026-11-26 18:43:31.504480',1,3);
INSERT INTO "record_checkstanding" VALUES(4,'intake','as-received',1,1,1,'2026-11-26 18:43:31.842295',1,5);
CREATE TABLE "record_customer" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(200) NOT NULL, "contact" text NOT NULL, "note" text NOT NULL, "invented" bool NOT NULL);
INSERT INTO "record_customer" VALUES(1,'Invented Farm','','',0);
CREATE TABLE "record_disposition" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "part" varchar(120) NOT NULL, "proposed" varchar(8) NOT NULL, "decided" varchar(8) NOT NULL, "reason" text NOT NULL, "decided_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "overruled_with_a_reason" CHECK (("proposed" = '' OR "decided" = ("proposed") OR NOT ("reason" = ''))));
INSERT INTO "record_disposition" VALUES(1,'commutator','','reuse','rework','turn it','2026-11-26 18:43:31.876404',1,1);
CREATE TABLE "record_instrument" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "tag" varchar(60) NOT NULL, "kind" varchar(80) NOT NULL, "quantity" varchar(20) NOT NULL, "unit" varchar(12) NOT NULL, "resolution_si" real NOT NULL, "calibration_standard_uncertainty_si" real NOT NULL, "repeatability_si" real NOT NULL, "calibrated_on" date NULL, "due_on" date NULL, "retired" bool NOT NULL, "follows_id" bigint NULL UNIQUE REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "instrument_figures_not_negative" CHECK (("calibration_standard_uncertainty_si" >= 0.0 AND "repeatability_si" >= 0.0 AND "resolution_si" >= 0.0)));
INSERT INTO "record_instrument" VALUES(1,'M1','micrometer','length','',2.54e-06,0.0,0.0,NULL,NULL,0,NULL);
CREATE TABLE "record_job" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "uuid" char(32) NOT NULL UNIQUE, "number" varchar(40) NOT NULL UNIQUE, "family_key" varchar(60) NOT NULL, "complaint" text NOT NULL, "state" varchar(8) NOT NULL, "waits_for" varchar(200) NOT NULL, "opened_at" datetime NOT NULL, "closed_at" datetime NULL, "last_seq" integer unsigned NOT NULL CHECK ("last_seq" >= 0), "invented" bool NOT NULL, "customer_id" bigint NOT NULL REFERENCES "record_customer" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NULL REFERENCES "record_sheetversion" ("id") DEFERRABLE INITIALLY DEFERRED, "unit_id" bigint NOT NULL REFERENCES "record_unit" ("id") DEFERRABLE INITIALLY DEFERRED, "chain_head" varchar(64) NOT NULL, "chained_seq" integer unsigned NOT NULL CHECK ("chained_seq" >= 0), "chained_at" datetime NULL);
INSERT INTO "record_job" VALUES(1,'1791913bb73e4970aaf62e98b6659dec','2026-0007','starter','slow','open','','2026-11-26 18:43:30.755971',NULL,63,0,1,1,1,'299f69a886074624ccab8eb3f9de3fe46d8affcdca603b33b9f2c5a2dbe401c2',0,NULL);
CREATE TABLE "record_meter" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "state" varchar(12) NOT NULL, "words" varchar(300) NOT NULL, "rule" varchar(300) NOT NULL, "heard_at" datetime NULL, "page" char(32) NULL, "follows" char(32) NULL, "page_at" datetime NULL, "how" varchar(6) NOT NULL, "pedal" varchar(20) NOT NULL, "presses" integer unsigned NOT NULL CHECK ("presses" >= 0), "number" integer unsigned NOT NULL CHECK ("number" >= 0), "key" char(32) NULL, "text" varchar(80) NOT NULL, "unit" varchar(12) NOT NULL, "said" varchar(200) NOT NULL, "offered_at" datetime NULL, "instrument_id" bigint NOT NULL UNIQUE REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "record_part" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "name" varchar(120) NOT NULL, "part_number" varchar(80) NOT NULL, "action" varchar(8) NOT NULL, "quantity" integer unsigned NOT NULL CHECK ("quantity" >= 0), "note" text NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_part" VALUES(1,'','bush','','replaced',2,'','2026-11-26 18:43:31.867490',1,1);
CREATE TABLE "record_person" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL UNIQUE, "role" varchar(8) NOT NULL, "active" bool NOT NULL, "user_id" integer NULL UNIQUE REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_person" VALUES(1,'Anna (invented)','bench',1,NULL);
CREATE TABLE "record_photo" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "sha256" varchar(64) NOT NULL, "width" integer unsigned NOT NULL CHECK ("width" >= 0), "height" integer unsigned NOT NULL CHECK ("height" >= 0), "size_bytes" integer unsigned NOT NULL CHECK ("size_bytes" >= 0), "caption" varchar(200) NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_photo" VALUES(1,'e245bd1f209344dc928aceb07ac5e054','intake','as-received','8f678928dd1e0734e838e78203f352a3a75dd7e4a1a77fa1348e6eb36b3df476',60,40,429,'drive end','2026-11-26 18:43:31.839201',1,1);
CREATE TABLE "record_reading" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "seq" integer unsigned NOT NULL CHECK ("seq" >= 0), "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "test" varchar(20) NOT NULL, "place_from" varchar(16) NOT NULL, "place_to" varchar(16) NOT NULL, "track" varchar(16) NOT NULL, "value_si" real NULL, "entered" text NOT NULL, "unit" varchar(12) NOT NULL, "feed_from" integer unsigned NULL CHECK ("feed_from" >= 0), "feed_to" integer unsigned NULL CHECK ("feed_to" >= 0), "feed_amps" real NULL, "taken_at" datetime NOT NULL, "received_at" datetime NOT NULL, "struck" bool NOT NULL, "instrument_id" bigint NULL REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, "reason" varchar(200) NOT NULL, "link" varchar(64) NOT NULL, "said" varchar(200) NOT NULL, "said_unit" varchar(12) NOT NULL, "supersedes_id" bigint NULL UNIQUE REFERENCES "record_reading" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "reading_numbered_once" UNIQUE ("job_id", "seq"), CONSTRAINT "struck_reading_names_which" CHECK ((NOT "struck" OR "supersedes_id" IS NOT NULL)), CONSTRAINT "struck_for_a_reason" CHECK ((("reason" = '' AND NOT "struck") OR ("struck" AND NOT ("reason" = '')))));
INSERT INTO "record_reading" VALUES(1,'a8999124f974441e92b16aa0fc158eeb',1,'commutator','diameter','','1','','0.5',3.14959999999999962216e-02,'1.2400','in',NULL,NULL,NULL,'2026-11-26 18:43:30.788051','2026-11-26 18:43:30.788216',0,1,1,1,'','579a5432e57be8e660b69049b093e5546724c7103147f24829cf568c3969843e','','',NULL);
INSERT INTO "record_reading" VALUES(2,'ecfecae7309c4edbaf0f63f091a913c8',2,'commutator','diameter','','1','','0.5',3.15493399999999951655e-02,'1.2421','in',NULL,NULL,NULL,'2026-11-26 18:43:30.827499','2026-11-26 18:43:30.827616',0,1,1,1,'','2d5e47806d3148194c3841c89fb0ddc009934c17787c4425e97a0cec992e1c47','','',1);
INSERT INTO "record_reading" VALUES(3,'cdffc9f85bb1484c930651bd9d1879bc',3,'armature','winding','drop','1','2','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:30.853334','2026-11-26 18:43:30.853518',0,NULL,1,1,'','256243bbbd4bafa4dcc0a38a4148b8bd2bd8b7731e3eeb5b00756fc28fdf4b48','','',NULL);
INSERT INTO "record_reading" VALUES(4,'006f45b2674f4c90841a435c6b9e8dfe',4,'armature','winding','drop','2','3','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:30.864984','2026-11-26 18:43:30.865094',0,NULL,1,1,'','fbe00dd35d86c0f8b7ddce5882d1eb361bb111e103feb1e2b718a606caef1452','','',NULL);
INSERT INTO "record_reading" VALUES(5,'1b5da89399d441d59e7bfde243ca9dd3',5,'armature','winding','drop','3','4','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:30.871068','2026-11-26 18:43:30.871238',0,NULL,1,1,'','86fcb87a769a31bf06a9ecd38280116105651675a2dd98e0f7c584cf8ebdb0bc','','',NULL);
INSERT INTO "record_reading" VALUES(6,'702515e45dab4e9d82727f73c8a9aaa7',6,'armature','winding','drop','4','5','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:30.877153','2026-11-26 18:43:30.877275',0,NULL,1,1,'','f7d760f84f4a9229b6c2f8bb33a14eb3c7de0441bb466ffc031182fef9fe5c31','','',NULL);
INSERT INTO "record_reading" VALUES(7,'732f20ce81884a92aee7783650123e25',7,'armature','winding','drop','5','6','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:30.884918','2026-11-26 18:43:30.885041',0,NULL,1,1,'','00abfe28446df5f880cea8bf63a1a38303389eb8718a2a8a197c28c8322cd1f5','','',NULL);
INSERT INTO "record_reading" VALUES(8,'e7d63b8f5d3f48288750a64f561b1a23',8,'armature','winding','drop','6','7','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:30.896045','2026-11-26 18:43:30.896184',0,NULL,1,1,'','f72f212280f256915125b41c9b2a2b5ea4b6924f2ce3e3c86c1fb27acc7048b4','','',NULL);
INSERT INTO "record_reading" VALUES(9,'72a157de9f7d4f9a857807bccad921fd',9,'armature','winding','drop','7','8','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:30.908423','2026-11-26 18:43:30.908525',0,NULL,1,1,'','981cb4ab294820093a556d7b41fca39d4c058715682dfc9da34eb16f35cdd74c','','',NULL);
INSERT INTO "record_reading" VALUES(10,'cd2412ffa3cb4e44bbabaf1a014aa47b',10,'armature','winding','drop','8','9','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:30.918052','2026-11-26 18:43:30.918180',0,NULL,1,1,'','9b5299a1c666ac83695149a26b6c4305d82a5453156e8d3e63a2bcd9169180bb','','',NULL);
INSERT INTO "record_reading" VALUES(11,'8dd05275e1394503877d12a66c9c5d2d',11,'armature','winding','drop','9','10','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:30.928594','2026-11-26 18:43:30.928689',0,NULL,1,1,'','939fd924a93c0612bf5451542cab200b0164403e68bac992e79003d202eb778d','','',NULL);
INSERT INTO "record_reading" VALUES(12,'aed46f4be83b4aea8db5dce221c8e590',12,'armature','winding','drop','10','11','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:30.936243','2026-11-26 18:43:30.936375',0,NULL,1,1,'','219347b1ac30d1bc17370f0d270f2441541da49fb9421d567e4c50f0d9311e1a','','',NULL);
INSERT INTO "record_reading" VALUES(13,'44bd378fdd07496492b5bbe49bfb8ee9',13,'armature','winding','drop','11','12','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:30.945135','2026-11-26 18:43:30.945261',0,NULL,1,1,'','0f686145365353ea5e3d7fc5baa2e55c5bed1469ad75e17733ddadfcacc0d667','','',NULL);
INSERT INTO "record_reading" VALUES(14,'638d24c7a4cb4397b4e3798ae67b8660',14,'armature','winding','drop','12','13','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:30.963754','2026-11-26 18:43:30.963881',0,NULL,1,1,'','f6060d7dc9d11a5cc0c9d9751b40c5803ca59de46ba18102556868eb077c4076','','',NULL);
INSERT INTO "record_reading" VALUES(15,'db5536a3b1e349c98ac657a9775b7dcb',15,'armature','winding','drop','13','14','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:30.971355','2026-11-26 18:43:30.971452',0,NULL,1,1,'','24de3a8a7666f23f99a357fac9343cbff308d6bcd1e489a19ab8fb438ee1c1c5','','',NULL);
INSERT INTO "record_reading" VALUES(16,'0d52371b1d0b4785a2b5bcc625458099',16,'armature','winding','drop','14','15','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:30.985326','2026-11-26 18:43:30.986173',0,NULL,1,1,'','558a2ab9be0d78483cfaec118b6cd243cb8a57d6e03446029036fcfd75b2fa23','','',NULL);
INSERT INTO "record_reading" VALUES(17,'9cc71bb880fa482ea431602062c0f2e4',17,'armature','winding','drop','15','16','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.002193','2026-11-26 18:43:31.002302',0,NULL,1,1,'','e8c1822eac647439253b12438a653bb440f1f816b658075e985c8b2d97fa9b02','','',NULL);
INSERT INTO "record_reading" VALUES(18,'51d63e60371d42aa9c539e98012c556c',18,'armature','winding','drop','16','17','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.017930','2026-11-26 18:43:31.018058',0,NULL,1,1,'','586d32274d1c122af8cbdb490b03fa38bfe2d383e23f93838b0387f3979db9fe','','',NULL);
INSERT INTO "record_reading" VALUES(19,'ac0ebe607b184a98b586d5d324360059',19,'armature','winding','drop','17','18','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.024877','2026-11-26 18:43:31.024978',0,NULL,1,1,'','f2ab192e4bf880661611727efe23756839afab8d9f799d507ae7af0d23ba908a','','',NULL);
INSERT INTO "record_reading" VALUES(20,'10581a78b7ad43b18d107e3d86d27586',20,'armature','winding','drop','18','19','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.042434','2026-11-26 18:43:31.042608',0,NULL,1,1,'','16aaddca24e226a0eeebe5d02ba00b955d810d1e9d571600ff6405cbd2e4f026','','',NULL);
INSERT INTO "record_reading" VALUES(21,'158f3a01b4044a32ae20a5caa61b467e',21,'armature','winding','drop','19','20','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.052823','2026-11-26 18:43:31.052939',0,NULL,1,1,'','746264892f5f3155e6af29973a8ad43df4842aa12da7c061051f404888b016ca','','',NULL);
INSERT INTO "record_reading" VALUES(22,'0a29e2a317844d638b1b78a6dbcad033',22,'armature','winding','drop','20','21','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.066187','2026-11-26 18:43:31.066357',0,NULL,1,1,'','2d9fb1de8b8dd60d5d453898d209bdcaee45e142b12c0ee18aa2c2568b5905bf','','',NULL);
INSERT INTO "record_reading" VALUES(23,'363bb8166fb6444f9dd562757dc479b5',23,'armature','winding','drop','21','22','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.079247','2026-11-26 18:43:31.079341',0,NULL,1,1,'','56fa4bda4ed947c15a1e02bf5e93e27369ef9c11a31f07d3cb1f21d4a9dde17f','','',NULL);
INSERT INTO "record_reading" VALUES(24,'7e18a5a53dca4fe3ac6c160c2fbf5f3f',24,'armature','winding','drop','22','23','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.094392','2026-11-26 18:43:31.094560',0,NULL,1,1,'','367e9818013a2d1ce236af3c244051e168db686376ba78efb99a11638f3e4482','','',NULL);
INSERT INTO "record_reading" VALUES(25,'5d3656c527f043c7946c92732acfc22d',25,'armature','winding','drop','23','24','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.105872','2026-11-26 18:43:31.106019',0,NULL,1,1,'','69d58118eae6fc395f7db18f6addf00ca48e732f44144fefa2f59138b569f3f9','','',NULL);
INSERT INTO "record_reading" VALUES(26,'a80e557a092e4bfc97d6d9ba0c460e4a',26,'armature','winding','drop','24','25','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.116091','2026-11-26 18:43:31.116175',0,NULL,1,1,'','8f15b01c376feff1d9eb0ebf9c40cf746f038e4c9846eaaf82cb2e3541d6accb','','',NULL);
INSERT INTO "record_reading" VALUES(27,'b33ffb30175740ac96a2ca54dd49c767',27,'armature','winding','drop','25','26','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.126266','2026-11-26 18:43:31.126368',0,NULL,1,1,'','c9b806629a55b7de7e6d3a208f5d31b5230d605f54cec3b98a9e8eab1b050db9','','',NULL);
INSERT INTO "record_reading" VALUES(28,'22e5613fc08942d080f80513c05390f3',28,'armature','winding','drop','26','27','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.137723','2026-11-26 18:43:31.137852',0,NULL,1,1,'','472df143d649fc1a585217c2ecf3f5eaef7b409914d3e657ac992474bb686bda','','',NULL);
INSERT INTO "record_reading" VALUES(29,'b38ad4213b164d8dac46c3a121e9dc59',29,'armature','winding','drop','27','28','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.148420','2026-11-26 18:43:31.148508',0,NULL,1,1,'','3933550a274553b55d38a8a3c6018f252777f8ee77f6f6d8e3e6cc280144d81f','','',NULL);
INSERT INTO "record_reading" VALUES(30,'3f026ed9a5974003a8cf9ab803be9227',30,'armature','winding','drop','28','29','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.156210','2026-11-26 18:43:31.156326',0,NULL,1,1,'','865c981da87b676735710036ece7a2e2d02d29264d72c3a1118b017369c6e18d','','',NULL);
INSERT INTO "record_reading" VALUES(31,'6fd6d3f3b1e046bca31a232e05f128db',31,'armature','winding','drop','29','30','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.164460','2026-11-26 18:43:31.164552',0,NULL,1,1,'','3fe9b994f1b06fab5f6fd7fbaa56dbfdaf521e1d5dd2c4152c9e7ad17d4db6df','','',NULL);
INSERT INTO "record_reading" VALUES(32,'233f862c517745f3a36557d923556560',32,'armature','winding','drop','30','31','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.172082','2026-11-26 18:43:31.172158',0,NULL,1,1,'','12ffb4e834f876983bf0f1fa526c5754bd9a84f5f2d87a6f140c12186ad3ad39','','',NULL);
INSERT INTO "record_reading" VALUES(33,'c1243af2808d4ac5879e173b3d7a5a87',33,'armature','winding','drop','31','32','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.179678','2026-11-26 18:43:31.179752',0,NULL,1,1,'','ec1bd46154a2bfb4d2ae68734db351ab442f5d5fe89807399227454c5d02c9ae','','',NULL);
INSERT INTO "record_reading" VALUES(34,'0ba38c74d7614e35b7c425986c814991',34,'armature','winding','drop','32','33','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.188154','2026-11-26 18:43:31.188230',0,NULL,1,1,'','797d16fd62d0cf3fa8539894c33e34386e98720249069a199a31cfaf01cba434','','',NULL);
INSERT INTO "record_reading" VALUES(35,'832fb70f5a254c85b36e9589c5d75040',35,'armature','winding','drop','33','34','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.196105','2026-11-26 18:43:31.196190',0,NULL,1,1,'','ee55e4a9ea5375ca0e4d14aa6db73d3b472f8868651dd80625710dd0fc5aa783','','',NULL);
INSERT INTO "record_reading" VALUES(36,'dba95f45b31546fab2526774b6e34f7f',36,'armature','winding','drop','34','35','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.204093','2026-11-26 18:43:31.204176',0,NULL,1,1,'','247f28f46e4844e05accbfa6dca0b5d08e4648c2651ce192429cee042040efb5','','',NULL);
INSERT INTO "record_reading" VALUES(37,'d48256b8dbb94afdb0261a44354e37bf',37,'armature','winding','drop','35','36','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.212372','2026-11-26 18:43:31.212496',0,NULL,1,1,'','731b2f027e6d7ac93b3af2761ae07ab5024682648ddfd95db8aa46bc60d05a54','','',NULL);
INSERT INTO "record_reading" VALUES(38,'6fd6a7d90a8c468b85f9c5ecce5f2763',38,'armature','winding','drop','36','37','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.224665','2026-11-26 18:43:31.224795',0,NULL,1,1,'','5ba9912dcd724822f1eb7cf6c70e9143613356a29f04aecea3c8b9814a6bb9a4','','',NULL);
INSERT INTO "record_reading" VALUES(39,'b17427caba394a6b8a9cfd868ab8204d',39,'armature','winding','drop','37','38','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.237393','2026-11-26 18:43:31.241094',0,NULL,1,1,'','04ae3360d9106b5cbf67fd428477e80d79bc6a8af3de4cc62cd8808d43837be0','','',NULL);
INSERT INTO "record_reading" VALUES(40,'16713cbce0ad40bca3712856022b91f5',40,'armature','winding','drop','38','39','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.252814','2026-11-26 18:43:31.252900',0,NULL,1,1,'','002a385ba04b8a2deb5400d5f962835d74a898b651bf250623b1b0f8e0dc21dc','','',NULL);
INSERT INTO "record_reading" VALUES(41,'0b7583131dad4085a0eeb35a5c17cbae',41,'armature','winding','drop','39','40','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.270962','2026-11-26 18:43:31.271060',0,NULL,1,1,'','9fc76160d18bd9785681c8c2349202f2e74044a88c9d9a1a10788f0d12c8e139','','',NULL);
INSERT INTO "record_reading" VALUES(42,'09902ddd140141d19f89c6d7dfa7203e',42,'armature','winding','drop','40','41','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.284338','2026-11-26 18:43:31.284421',0,NULL,1,1,'','9e2186d17bc1925c08fa82b4475feebb2a277736dd081ccf75ad3c0c1103b24f','','',NULL);
INSERT INTO "record_reading" VALUES(43,'f37ea070444c41fb85f08311eed64b58',43,'armature','winding','drop','41','42','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.292339','2026-11-26 18:43:31.292419',0,NULL,1,1,'','5b124cd5d5251c477cc2f33089663d27044baa03aead0d16b8ee7fb8646065fd','','',NULL);
INSERT INTO "record_reading" VALUES(44,'8bd5737fca6c4efdb1ac6ad7a5036595',44,'armature','winding','drop','42','43','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.304339','2026-11-26 18:43:31.304423',0,NULL,1,1,'','013c4cdf72bb81055d5371fe51b1bf4bee6bcd1cd851f0f460f4639a815954bb','','',NULL);
INSERT INTO "record_reading" VALUES(45,'29397689a113477bbedf8cf5f0e1dedb',45,'armature','winding','drop','43','44','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.313034','2026-11-26 18:43:31.313218',0,NULL,1,1,'','f723f85edb1f5d9d8a290f0729bd40996c65a616949f0614a7bb45b061f3b578','','',NULL);
INSERT INTO "record_reading" VALUES(46,'058c5f1ff0054162af04f2ba0637062d',46,'armature','winding','drop','44','45','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.322556','2026-11-26 18:43:31.322638',0,NULL,1,1,'','33ece5500a1cd4d4e2d55c5305e9317f86da1d48b0a9225058c0f3b10beea457','','',NULL);
INSERT INTO "record_reading" VALUES(47,'c277ffda41cc43adaa5f2b1acffa695e',47,'armature','winding','drop','45','46','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.344300','2026-11-26 18:43:31.344385',0,NULL,1,1,'','fe74c9022c05cc5ab3c73ad8ef8219801329982c06ac696e260d7a9ca9996be9','','',NULL);
INSERT INTO "record_reading" VALUES(48,'0ee989adb45d44cba8f4533e5524a8f9',48,'armature','winding','drop','46','47','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.356414','2026-11-26 18:43:31.356497',0,NULL,1,1,'','b16c8e7ec767b4b2ac29ac7ed22f727079f36a4a0378698b3f15c7214da181ec','','',NULL);
INSERT INTO "record_reading" VALUES(49,'82973acbea074040940305c661d7532f',49,'armature','winding','drop','47','48','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.364148','2026-11-26 18:43:31.364229',0,NULL,1,1,'','915baa1a332fd356786ea5cda443e634f2be38b22c4d79fc94ba9fb6728d610f','','',NULL);
INSERT INTO "record_reading" VALUES(50,'6640d60b774a4b5a9edefa2e6f2d69d9',50,'armature','winding','drop','48','49','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.372056','2026-11-26 18:43:31.372139',0,NULL,1,1,'','e0f7035a402871e2196e0963ea100c9447662fcb92c311e69f32e1a75addf56e','','',NULL);
INSERT INTO "record_reading" VALUES(51,'04803b69a3cd4925b85ab8ed37bec1b1',51,'armature','winding','drop','49','50','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.380330','2026-11-26 18:43:31.380434',0,NULL,1,1,'','1c140d8823f91bf6bccd22a992e99ec17c8c7057d5043d7991558b537af00e27','','',NULL);
INSERT INTO "record_reading" VALUES(52,'be7e59c1c7164a9bb361793f0dc9f982',52,'armature','winding','drop','50','51','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.393007','2026-11-26 18:43:31.393222',0,NULL,1,1,'','e81717a9f3b116ff8c2fac9043f404445f35accc70c3c4700dbb0b8f3701cf92','','',NULL);
INSERT INTO "record_reading" VALUES(53,'5b75a1dbcbef49c09cde0d4195abb6d6',53,'armature','winding','drop','51','52','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.400990','2026-11-26 18:43:31.401110',0,NULL,1,1,'','2b9a6eae481be88cd54562455de617bfd2b7d5a3d53da05d1a524c06216675c6','','',NULL);
INSERT INTO "record_reading" VALUES(54,'304d482bd2e04fcab568e71407d7c35a',54,'armature','winding','drop','52','53','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.412844','2026-11-26 18:43:31.412978',0,NULL,1,1,'','41b257031854732c7edec0bd752f1c7e152ad5fe9864efb9ca805491405a1322','','',NULL);
INSERT INTO "record_reading" VALUES(55,'dc34d2730aeb4086ba6b3edaf2425fed',55,'armature','winding','drop','53','54','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.427284','2026-11-26 18:43:31.427397',0,NULL,1,1,'','f90d19e324767fae49450535b4c15075cb1553f82dea69dc4af1db00f8d1f41e','','',NULL);
INSERT INTO "record_reading" VALUES(56,'4c16a7aaa28445f5a8231bbf2560a37f',56,'armature','winding','drop','54','55','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.437546','2026-11-26 18:43:31.437684',0,NULL,1,1,'','ded753ec9649f0e37fb9acb559f6f0411349a9966a5df1d3fe627838a51a9ab1','','',NULL);
INSERT INTO "record_reading" VALUES(57,'24d34775f49e449b8c86e7cf89177557',57,'armature','winding','drop','55','56','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.444212','2026-11-26 18:43:31.444333',0,NULL,1,1,'','1b104c9aa2ce2c58d83bc3b84e62f4d9aaac073e9928ef0c93923bb08db9e720','','',NULL);
INSERT INTO "record_reading" VALUES(58,'211707d1bc9c41fea78c92abfa2d3f9e',58,'armature','winding','drop','56','57','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 18:43:31.457269','2026-11-26 18:43:31.457393',0,NULL,1,1,'','9c12cf31b5776cdb76dc92c079449d094e2dc772ba9f9e13452a56ffc49dd2f4','','',NULL);
INSERT INTO "record_reading" VALUES(59,'97e17155b0ff406e915bb2de82df5ff4',59,'armature','winding','drop','57','1','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 18:43:31.472408','2026-11-26 18:43:31.472497',0,NULL,1,1,'','fd83a590fc4b99a2f727105eb1116e86646f6d479f608982d494d8a49d4ad6a4','','',NULL);
INSERT INTO "record_reading" VALUES(60,'2955612d96324893b30588c2086037ee',60,'armature','winding','drop','57','1','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 18:43:31.488725','2026-11-26 18:43:31.488816',0,NULL,1,1,'','b07d45917b03eb007235482c608d6ac5157394b3f5aed28ac32b72d0a2c18f85','','',NULL);
INSERT INTO "record_reading" VALUES(61,'e049ffe0754a4ad6997f3670857348cb',61,'armature','winding','drop','57','1','',NULL,'','mV',NULL,NULL,NULL,'2026-11-26 18:43:31.498535','2026-11-26 18:43:31.499470',1,NULL,1,1,'touched the wrong bar','27a61179706b35dcefedfb1ce091b69592398374f5a0caef50e57e1a67248ef6','','',59);
INSERT INTO "record_reading" VALUES(62,'30817fe7243e4680a729f92566d5053f',62,'intake','turns-by-hand','','','','',NULL,'stiff','',NULL,NULL,NULL,'2026-11-26 18:43:31.504406','2026-11-26 18:43:31.504480',0,NULL,1,1,'','b22c720f5826f782b52b4f44854e17aad1589b9be5a77fa536d03a8b677602a6','','',NULL);
INSERT INTO "record_reading" VALUES(63,'e245bd1f209344dc928aceb07ac5e054',63,'intake','as-received','','','','',NULL,'drive end','',NULL,NULL,NULL,'2026-11-26 18:43:31.842225','2026-11-26 18:43:31.842295',0,NULL,1,1,'','299f69a886074624ccab8eb3f9de3fe46d8affcdca603b33b9f2c5a2dbe401c2','','',NULL);
CREATE TABLE "record_result" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "decision" varchar(12) NOT NULL, "value" real NULL, "uncertainty" real NULL, "quantity" varchar(20) NOT NULL, "unit" varchar(12) NOT NULL, "probability" real NULL, "line" text NOT NULL, "settle" text NOT NULL, "details" text NOT NULL CHECK ((JSON_VALID("details") OR "details" IS NULL)), "software_version" varchar(40) NOT NULL, "seqs" text NOT NULL CHECK ((JSON_VALID("seqs") OR "seqs" IS NULL)), "fingerprint" varchar(64) NOT NULL, "made_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NULL REFERENCES "record_sheetversion" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_result" VALUES(1,'commutator','diameter','accept',3.14959999999999962216e-02,7.33234841870824719575e-07,'length','in',1.0,'Diameter as it came: 1.2400 in, within its limit, 1.226 in or more. 42 % worn.','','{"places": [{"place": [], "value": 0.031495999999999996, "uncertainty": 7.332348418708247e-07, "readings": 1, "decision": "accept", "probability": 1.0, "accepted_from": 0.031141606063989056, "accepted_to": null}], "not_read": [], "only_last_digit": true, "settled_by_uncertainty": null, "settled_by_repeats": null, "limit": "commutator-diameter", "lower": 0.0311404, "upper": null, "target": null, "limit_unit": "in", "source": "own measurement: invented", "general": false, "worn_percent": 41.66666666666724, "worn_low_percent": 41.4309196387344, "worn_high_percent": 41.90241369460008, "extrapolated": null, "micrometers": [{"bar": 1, "track": 0.5, "diameter_m": 0.031495999999999996, "resolution_m": 2.54e-06}]}','0.1.0','[1]','57ccd6706028aa6d7495fc6014b1e18143f8e23f4a798a101eaf1d0b9a401284','2026-11-26 18:43:30.799998',1,1);
INSERT INTO "record_result" VALUES(2,'commutator','diameter','accept',3.15493399999999951655e-02,7.33234841870824719575e-07,'length','in',1.0,'Diameter as it came: 1.2421 in, within its limit, 1.226 in or more. 33 % worn.','','{"places": [{"place": [], "value": 0.031549339999999995, "uncertainty": 7.332348418708247e-07, "readings": 1, "decision": "accept", "probability": 1.0, "accepted_from": 0.031141606063989056, "accepted_to": null}], "not_read": [], "only_last_digit": true, "settled_by_uncertainty": null, "settled_by_repeats": null, "limit": "commutator-diameter", "lower": 0.0311404, "upper": null, "target": null, "limit_unit": "in", "source": "own measurement: invented", "general": false, "worn_percent": 32.91666666666744, "worn_low_percent": 32.6809196387346, "worn_high_percent": 33.15241369460027, "extrapolated": null, "micrometers": [{"bar": 1, "track": 0.5, "diameter_m": 0.031549339999999995, "resolution_m": 2.54e-06}]}','0.1.0','[2]','1f69029ff0b037d739458c2f1911a4d52f80b6d32ff1cac5957a1ed92d1b5b4d','2026-11-26 18:43:30.841081',1,1);
INSERT INTO "record_result" VALUES(3,'intake','turns-by-hand','undecided',NULL,NULL,'','',NULL,'Turns by hand: stiff.','Look for the cause at teardown: bush, bent shaft, pole shoe.','{"answers": {"": "stiff"}, "not_read": []}','0.1.0','[62]','3bcbf7db42f94598ac57762eda3fb8f5d9433a08dbe247e9570b941fca262702','2026-11-26 18:43:31.509846',1,1);
INSERT INTO "record_result" VALUES(4,'armature','winding','undecided',NULL,NULL,'','',9.94782013633641826189e-01,'Winding: undecided, 99.5 % sound.','Take ground 1 to the shaft: nothing taken so far can show a ground','{"diagnosis": {"verdict": "undecided", "sound_probability": 0.9947820136336418, "findings": [{"fault": "open-coil", "coil": 44, "bars": [44, 15], "slots": [22, 29], "probability": 0.00024015161135900064, "severity": {}, "explanation": 2}], "suspects": [{"reading": {"test": "drop", "start": 15, "end": 16, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 15}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 16, "end": 17, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 16}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 17, "end": 18, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 17}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 18, "end": 19, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 18}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 19, "end": 20, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 19}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 20, "end": 21, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 20}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 21, "end": 22, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 21}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 22, "end": 23, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 22}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 23, "end": 24, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 23}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 24, "end": 25, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 24}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 25, "end": 26, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 25}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 26, "end": 27, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 26}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 27, "end": 28, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 27}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 28, "end": 29, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 28}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 29, "end": 30, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 29}, "reason": "bad touch: more than the other readings call for; read it again", "probability": 1.0}, {"reading": {"test": "drop", "start": 43, "end": 44, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 43}, "reason": "bad touch: more than the other readings call for; read it again", "probability": 1.0}, {"reading": {"test": "drop", "start": 44, "end": 45, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 44}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 45, "end": 46, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 45}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 46, "end": 47, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 46}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 47, "end": 48, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 47}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 48, "end": 49, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 48}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 49, "end": 50, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 49}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 50, "end": 51, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 50}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 51, "end": 52, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 51}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 52, "end": 53, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 52}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 53, "end": 54, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 53}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 54, "end": 55, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 54}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 55, "end": 56, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 55}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 56, "end": 57, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 56}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 57, "end": 1, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 57}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}], "smallest_detectable": {"shorted-coil": {"fault": "shorted-coil", "severity": {"bridge_ratio": 6.999999999999999}, "hidden": [], "why": "would have been seen, even a weak one (a path of up to 7 times a coil''s own resistance)"}, "high-resistance-joint": {"fault": "high-resistance-joint", "severity": {"factor": 1.15}, "hidden": [], "why": "would have been seen from 15 % above a healthy coil"}, "open-coil": {"fault": "open-coil", "severity": {"any": 1.0}, "hidden": [], "why": "would have been seen wherever it is"}, "bar-bridge": {"fault": "bar-bridge", "severity": {"bridge_ratio": 13.999999999999996}, "hidden": [29, 43], "why": "would have been seen, even a weak one (a path of up to 14 times a coil''s own resistance); out of sight at 2 of 57 places"}, "reversed-coil": {"fault": "reversed-coil", "severity": {}, "hidden": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57], "why": "these readings cannot show a reversed coil; take induced readings"}, "grounded-coil": {"fault": "grounded-coil", "severity": {}, "hidden": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57], "why": "these readings cannot show a grounded coil; take ground readings"}}, "next_reading": {"test": "ground", "start": 1, "end": null, "feed": null, "why": "nothing taken so far can show a ground"}, "expected": [0.0037107644251074745, 0.0037107264459697257, 0.0037106884813868737, 0.0037106505313584527, 0.003710612595884046, 0.0037105746749631994, 0.0037105367685954867, 0.0037104988767804573, 0.0037104609995176814, 0.0037104231368067135, 0.003710385288647127, 0.003710347455038479, 0.003710309635980334, 0.0037102718314722567, -0.003582294936634019, -0.0035822584638250687, -0.0035822220050631963, -0.003582185560347972, -0.0035821491296789874, -0.003582112713055814, -0.0035820763104780226, -0.0035820399219452016, -0.003582003547456928, -0.0035819671870127795, -0.0035819308406123324, -0.0035818945082551775, -0.0035818581899408975, -0.003581821885669062, 6.39604570614171e-05, 0.003709668937795731, 0.003709631380572031, 0.003709593837890565, 0.0037095563097508896, 0.003709518796152585, 0.0037094812970951963, 0.0037094438125783004, 0.0037094063426014634, 0.0037093688871642524, 0.003709331446266229, 0.003709294019906975, 0.003709256608086042, 0.0037092192108030175, 6.39514108285754e-05, -0.003581242926750672, -0.0035812068611363788, -0.0035811708095570215, -0.0035811347720121644, -0.0035810987485013967, -0.0035810627390242987, -0.003581026743580462, -0.0035809907621694574, -0.0035809547947908828, -0.003580918841444305, -0.0035808829021293388, -0.0035808469768455384, -0.0035808110655925073, -0.0035807751683698263], "notes": ["drop fed at bars 1 and 15: 28 of 55 readings have the wrong sign for this feed, the others the right one; the current divides, so on part of the commutator the drop is minus: keep the red lead on the first bar of each pair and enter the sign the meter shows", "no state of the armature known here explains these readings: too many contradict each other; check the winding''s description, the feed and the meter, or look for a fault not covered, such as three at once", "these readings cannot show a reversed coil; take induced readings", "these readings cannot show a grounded coil; take ground readings"]}, "unused": []}','0.1.0','[3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57, 58, 60]','bcb838fb2705fb56f0920a67271637c5b2e5f6851ef8a2b1235a6bcda525aa3a','2026-11-26 18:43:31.815801',1,1);
INSERT INTO "record_result" VALUES(5,'intake','as-received','noted',NULL,NULL,'','',NULL,'Photo as it came in: drive end.','','{"noted": ["drive end"]}','0.1.0','[63]','dbbf6d2d2e588f4a8dccbbe63dd9ea008ae676c54539da33b5e1ec7b73151a39','2026-11-26 18:43:31.854798',1,1);
CREATE TABLE "record_seal" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL CHECK ("number" >= 0), "packed" BLOB NOT NULL, "digest" varchar(64) NOT NULL, "signature" varchar(128) NOT NULL, "signed_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "key_id" bigint NOT NULL REFERENCES "record_shopkey" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "seal_numbered_once" UNIQUE ("job_id", "number"));
CREATE TABLE "record_sheetversion" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" varchar(60) NOT NULL, "version" integer unsigned NOT NULL CHECK ("version" >= 0), "title" varchar(200) NOT NULL, "family_key" varchar(60) NOT NULL, "toml" text NOT NULL, "sha256" varchar(64) NOT NULL, "invented" bool NOT NULL, "stored_at" datetime NOT NULL, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "sheet_version_once" UNIQUE ("key", "version"));
INSERT INTO "record_sheetversion" VALUES(1,'demo-57-wave',1,'Invented 12 V starter, 57 bars, wave wound','starter','# An invented model: no real machine has this sheet. It goes with the files of examples/demo.
key = "demo-57-wave"
title = "Invented 12 V starter, 57 bars, wave wound"
family = "starter"
version = 1
invented = true
notes = "Invented for the demonstration; every number on it is made up."

[facts]
voltage = 12
field = "series-parallel"
commutator = "barrel"
drive = "roller-clutch"
reduction = "none"
switch = "on-starter"
bearings = "bushes"
rotation = "clockwise"
return = "housing"
brushes = 4
field-coils = 4
field-turns = 8

[winding]
kind = "wave"
poles = 4
bars = 57
slots = 29
turns_per_coil = 1
progression = "retrogressive"

[commutator]
bars = 57
unit = "in"
brush_band = [0.12, 0.88]
may_turn = true
may_undercut = true
interval_wear = 0.006

[limits.commutator-diameter]
new = 1.250
half_worn = 1.238
discard = 1.226
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.commutator-runout]
high = 0.002
unit = "in"
source = { kind = "own measurement", text = "invented" }
also = { high = 0.05, unit = "mm" }

[limits.shaft-runout]
high = 0.003
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.journal-drive-end]
new = 0.5000
discard = 0.4970
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.journal-commutator-end]
new = 0.5620
discard = 0.5590
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-bore-drive-end]
new = 0.5020
discard = 0.5060
grows = true
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-bore-commutator-end]
new = 0.5640
discard = 0.5680
grows = true
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-clearance-commutator-end]
low = 0.001
high = 0.006
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-clearance-drive-end]
low = 0.001
high = 0.006
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-length]
new = 0.740
discard = 0.400
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-width]
low = 0.745
high = 0.752
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-thickness]
low = 0.307
high = 0.314
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.spring-force]
low = 32
high = 48
unit = "ozf"
source = { kind = "own measurement", text = "invented" }

[limits.armature-insulation]
low = 5
unit = "Mohm"
note = "as read at room temperature"
source = { kind = "own measurement", text = "invented" }

[limits.field-insulation]
low = 1
unit = "Mohm"
note = "as read at room temperature"
source = { kind = "own measurement", text = "invented" }

[limits.field-feed-current]
target = 20
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.field-coil-drop]
low = 38
high = 46
unit = "mV"
note = "at 20 A, 20 °C"
source = { kind = "own measurement", text = "invented" }

[limits.switch-test-voltage]
target = 10
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.pull-in-current]
low = 30
high = 44
unit = "A"
note = "at 10 V"
source = { kind = "own measurement", text = "invented" }

[limits.hold-in-current]
low = 8
high = 12
unit = "A"
note = "at 10 V"
source = { kind = "own measurement", text = "invented" }

[limits.pull-in-voltage]
high = 7.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.release-voltage]
low = 0.3
high = 2.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.cranking-current]
target = 350
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.plunger-travel]
low = 0.420
high = 0.470
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.plunger-overtravel]
low = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-span]
new = 0.4880
discard = 0.4650
unit = "in"
note = "over 2 teeth"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-chamfer]
low = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.clutch-slip-torque]
low = 70
unit = "lbf.ft"
source = { kind = "own measurement", text = "invented" }

[limits.clutch-drag-torque]
high = 6
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.spline-play]
high = 0.010
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.return-spring-length]
low = 1.450
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-travel]
low = 0.650
high = 0.750
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.lever-play]
high = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.end-play]
low = 0.005
high = 0.030
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-clearance]
low = 0.020
high = 0.140
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.through-bolt-torque]
low = 60
high = 80
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.switch-screw-torque]
low = 40
high = 60
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.terminal-torque]
low = 80
high = 110
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-volts]
target = 11.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-current]
low = 55
high = 85
target = 70
unit = "A"
note = "at 11.5 V, switch included"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-speed]
low = 3600
high = 5400
target = 4600
unit = "rpm"
note = "at 11.5 V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-volts]
target = 4.0
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-current]
high = 520
target = 450
unit = "A"
note = "at 4.0 V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-torque]
low = 12.0
target = 13.8
unit = "lbf.ft"
note = "at 4.0 V"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-volts]
target = 9.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-current]
target = 350
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-speed]
target = 1480
unit = "rpm"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-torque]
target = 10.0
unit = "lbf.ft"
source = { kind = "own measurement", text = "invented" }
','bd573ad43743cf0d76bda5087e6edec9c91ec63f7570e57e132a87ff2bf7fe1f',1,'2026-11-26 18:43:30.747651',NULL);
CREATE TABLE "record_shop" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "decimal_comma" bool NOT NULL, "length_unit" varchar(4) NOT NULL, "level" real NOT NULL, "invented" bool NOT NULL, "address" text NOT NULL, "warranty" text NOT NULL, "paper" varchar(6) NOT NULL, CONSTRAINT "one_shop" CHECK ("id" = 1), CONSTRAINT "shop_level" CHECK (("level" > 0.5 AND "level" < 1.0)));
CREATE TABLE "record_shopkey" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "fingerprint" varchar(64) NOT NULL UNIQUE, "public" varchar(64) NOT NULL, "made_at" varchar(40) NOT NULL, "follows" varchar(64) NOT NULL, "vouched" varchar(128) NOT NULL);
CREATE TABLE "record_unit" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "tag" varchar(60) NOT NULL UNIQUE, "serial" varchar(80) NOT NULL, "family_key" varchar(60) NOT NULL, "description" varchar(200) NOT NULL, "invented" bool NOT NULL);
INSERT INTO "record_unit" VALUES(1,'T-100','S1','starter','',1);
CREATE UNIQUE INDEX "django_content_type_app_label_model_76bd3d3b_uniq" ON "django_content_type" ("app_label", "model");
CREATE UNIQUE INDEX "auth_group_permissions_group_id_permission_id_0cd325b0_uniq" ON "auth_group_permissions" ("group_id", "permission_id");
CREATE INDEX "auth_group_permissions_group_id_b120cbf9" ON "auth_group_permissions" ("group_id");
CREATE INDEX "auth_group_permissions_permission_id_84c5c92e" ON "auth_group_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_user_groups_user_id_group_id_94350c0c_uniq" ON "auth_user_groups" ("user_id", "group_id");
CREATE INDEX "auth_user_groups_user_id_6a12ed8b" ON "auth_user_groups" ("user_id");
CREATE INDEX "auth_user_groups_group_id_97559544" ON "auth_user_groups" ("group_id");
CREATE UNIQUE INDEX "auth_user_user_permissions_user_id_permission_id_14a6b632_uniq" ON "auth_user_user_permissions" ("user_id", "permission_id");
CREATE INDEX "auth_user_user_permissions_user_id_a95ead1b" ON "auth_user_user_permissions" ("user_id");
CREATE INDEX "auth_user_user_permissions_permission_id_1fbb5f2c" ON "auth_user_user_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_permission_content_type_id_codename_01ab375a_uniq" ON "auth_permission" ("content_type_id", "codename");
CREATE INDEX "auth_permission_content_type_id_2f476e4b" ON "auth_permission" ("content_type_id");
CREATE INDEX "axes_accessattempt_user_agent_ad89678b" ON "axes_accessattempt" ("user_agent");
CREATE INDEX "axes_accessattempt_ip_address_10922d9c" ON "axes_accessattempt" ("ip_address");
CREATE INDEX "axes_accessattempt_username_3f2d4ca0" ON "axes_accessattempt" ("username");
CREATE UNIQUE INDEX "axes_accessattempt_username_ip_address_user_agent_8ea22282_uniq" ON "axes_accessattempt" ("username", "ip_address", "user_agent");
CREATE INDEX "axes_accessfailurelog_user_agent_ea145dda" ON "axes_accessfailurelog" ("user_agent");
CREATE INDEX "axes_accessfailurelog_ip_address_2e9f5a7f" ON "axes_accessfailurelog" ("ip_address");
CREATE INDEX "axes_accessfailurelog_username_a8b7e8a4" ON "axes_accessfailurelog" ("username");
CREATE INDEX "axes_accesslog_user_agent_0e659004" ON "axes_accesslog" ("user_agent");
CREATE INDEX "axes_accesslog_ip_address_86b417e5" ON "axes_accesslog" ("ip_address");
CREATE INDEX "axes_accesslog_username_df93064b" ON "axes_accesslog" ("username");
CREATE INDEX "record_customer_name_1a72859b" ON "record_customer" ("name");
CREATE INDEX "record_unit_serial_e3f27a4d" ON "record_unit" ("serial");
CREATE INDEX "record_part_job_id_7a41363c" ON "record_part" ("job_id");
CREATE INDEX "record_part_person_id_b447d603" ON "record_part" ("person_id");
CREATE INDEX "record_change_at_f8e5f425" ON "record_change" ("at");
CREATE INDEX "record_change_job_id_a832cbe0" ON "record_change" ("job_id");
CREATE INDEX "record_change_person_id_4e191318" ON "record_change" ("person_id");
CREATE INDEX "record_photo_job_id_f41d0d2b" ON "record_photo" ("job_id");
CREATE INDEX "record_photo_person_id_50c0c5b2" ON "record_photo" ("person_id");
CREATE INDEX "record_result_job_id_63863d8c" ON "record_result" ("job_id");
CREATE INDEX "record_result_sheet_id_4e6bf6f9" ON "record_result" ("sheet_id");
CREATE UNIQUE INDEX "instrument_tag_in_use_once" ON "record_instrument" ("tag") WHERE NOT "retired";
CREATE INDEX "record_instrument_tag_8fbc4b09" ON "record_instrument" ("tag");
CREATE INDEX "record_disposition_job_id_04989b1e" ON "record_disposition" ("job_id");
CREATE INDEX "record_disposition_person_id_87d9d7a3" ON "record_disposition" ("person_id");
CREATE INDEX "dispositions_of_station" ON "record_disposition" ("job_id", "station_key", "id" DESC);
CREATE INDEX "changes_of_job" ON "record_change" ("job_id", "id" DESC);
CREATE INDEX "record_checkstanding_job_id_07a2b8b7" ON "record_checkstanding" ("job_id");
CREATE INDEX "record_checkstanding_result_id_0ee6b20c" ON "record_checkstanding" ("result_id");
CREATE INDEX "record_sheetversion_person_id_d743e71b" ON "record_sheetversion" ("person_id");
CREATE INDEX "results_of_check" ON "record_result" ("job_id", "station_key", "check_key", "id" DESC);
CREATE TRIGGER record_result_no_update BEFORE UPDATE ON record_result BEGIN SELECT RAISE(ABORT, 'record_result is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_result_no_delete BEFORE DELETE ON record_result BEGIN SELECT RAISE(ABORT, 'record_result is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_disposition_no_update BEFORE UPDATE ON record_disposition BEGIN SELECT RAISE(ABORT, 'record_disposition is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_disposition_no_delete BEFORE DELETE ON record_disposition BEGIN SELECT RAISE(ABORT, 'record_disposition is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_change_no_update BEFORE UPDATE ON record_change BEGIN SELECT RAISE(ABORT, 'record_change is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_change_no_delete BEFORE DELETE ON record_change BEGIN SELECT RAISE(ABORT, 'record_change is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_sheetversion_no_update BEFORE UPDATE ON record_sheetversion BEGIN SELECT RAISE(ABORT, 'record_sheetversion is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_sheetversion_no_delete BEFORE DELETE ON record_sheetversion BEGIN SELECT RAISE(ABORT, 'record_sheetversion is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_instrument_no_update BEFORE UPDATE OF tag, kind, quantity, unit, resolution_si, calibration_standard_uncertainty_si, repeatability_si, calibrated_on ON record_instrument BEGIN SELECT RAISE(ABORT, 'record_instrument is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_instrument_no_delete BEFORE DELETE ON record_instrument BEGIN SELECT RAISE(ABORT, 'record_instrument is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_approval_no_update BEFORE UPDATE ON record_approval BEGIN SELECT RAISE(ABORT, 'record_approval is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_approval_no_delete BEFORE DELETE ON record_approval BEGIN SELECT RAISE(ABORT, 'record_approval is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_approval_job_id_1822986c" ON "record_approval" ("job_id");
CREATE INDEX "record_approval_person_id_4d6ab313" ON "record_approval" ("person_id");
CREATE INDEX "approvals_of_job" ON "record_approval" ("job_id", "id" DESC);
CREATE INDEX "record_job_customer_id_ff549b4c" ON "record_job" ("customer_id");
CREATE INDEX "record_job_sheet_id_83df65f7" ON "record_job" ("sheet_id");
CREATE INDEX "record_job_unit_id_89f51913" ON "record_job" ("unit_id");
CREATE INDEX "jobs_on_hand" ON "record_job" ("state", "opened_at" DESC);
CREATE INDEX "record_seal_job_id_2ef49c06" ON "record_seal" ("job_id");
CREATE INDEX "record_seal_key_id_db6d7c9e" ON "record_seal" ("key_id");
CREATE INDEX "record_seal_person_id_aa578501" ON "record_seal" ("person_id");
CREATE TRIGGER record_shopkey_no_update BEFORE UPDATE ON record_shopkey BEGIN SELECT RAISE(ABORT, 'record_shopkey is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_shopkey_no_delete BEFORE DELETE ON record_shopkey BEGIN SELECT RAISE(ABORT, 'record_shopkey is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_seal_no_update BEFORE UPDATE ON record_seal BEGIN SELECT RAISE(ABORT, 'record_seal is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_seal_no_delete BEFORE DELETE ON record_seal BEGIN SELECT RAISE(ABORT, 'record_seal is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_reading_instrument_id_6f89e1a4" ON "record_reading" ("instrument_id");
CREATE INDEX "record_reading_job_id_1f3233ac" ON "record_reading" ("job_id");
CREATE INDEX "record_reading_person_id_4fc69a81" ON "record_reading" ("person_id");
CREATE INDEX "readings_of_check" ON "record_reading" ("job_id", "station_key", "check_key", "seq");
CREATE TRIGGER record_reading_no_update BEFORE UPDATE ON record_reading BEGIN SELECT RAISE(ABORT, 'record_reading is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_reading_no_delete BEFORE DELETE ON record_reading BEGIN SELECT RAISE(ABORT, 'record_reading is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_broughtseal_no_update BEFORE UPDATE ON record_broughtseal BEGIN SELECT RAISE(ABORT, 'record_broughtseal is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_broughtseal_no_delete BEFORE DELETE ON record_broughtseal BEGIN SELECT RAISE(ABORT, 'record_broughtseal is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_broughtseal_person_id_4b41c0da" ON "record_broughtseal" ("person_id");
CREATE INDEX "django_session_expire_date_a5c62663" ON "django_session" ("expire_date");
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',33);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',29);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',115);
INSERT INTO "sqlite_sequence" VALUES('auth_group',3);
INSERT INTO "sqlite_sequence" VALUES('auth_user',0);
INSERT INTO "sqlite_sequence" VALUES('axes_accessattempt',0);
INSERT INTO "sqlite_sequence" VALUES('axes_accesslog',0);
INSERT INTO "sqlite_sequence" VALUES('record_instrument',1);
INSERT INTO "sqlite_sequence" VALUES('record_disposition',1);
INSERT INTO "sqlite_sequence" VALUES('record_checkstanding',4);
INSERT INTO "sqlite_sequence" VALUES('record_sheetversion',1);
INSERT INTO "sqlite_sequence" VALUES('record_shop',0);
INSERT INTO "sqlite_sequence" VALUES('record_job',1);
INSERT INTO "sqlite_sequence" VALUES('record_seal',0);
INSERT INTO "sqlite_sequence" VALUES('record_reading',63);
INSERT INTO "sqlite_sequence" VALUES('auth_group_permissions',6);
INSERT INTO "sqlite_sequence" VALUES('record_person',1);
INSERT INTO "sqlite_sequence" VALUES('record_unit',1);
INSERT INTO "sqlite_sequence" VALUES('record_change',8);
INSERT INTO "sqlite_sequence" VALUES('record_customer',1);
INSERT INTO "sqlite_sequence" VALUES('record_result',5);
INSERT INTO "sqlite_sequence" VALUES('record_photo',1);
INSERT INTO "sqlite_sequence" VALUES('record_part',1);
INSERT INTO "sqlite_sequence" VALUES('record_approval',1);
COMMIT;
